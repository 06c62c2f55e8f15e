/** The right answer to a made reading: the same way through the package that `plyframe decode` takes. */
import { chooseSlot, formatHex, identifyHeader, isFault, layout } from "../../protocol/index.ts";
import { ReadingStream } from "../readings/reading-stream.ts";
import { madeGroup } from "./made-case.ts";
import { readingPairs } from "./reading-case.ts";
import { record } from "./record-case.ts";
import { badAnswer, type Expected, goodAnswer, must, type ReplayCase } from "./replay-case.ts";

/** Words of a tag and the ambient of the moment. */
export interface MadeScene {
  /** USER words 0 to 31 and 40 to 71, as bytes. */
  readonly memory: Uint8Array;
  readonly blocks: Uint8Array;
  readonly ambient: { readonly pressure_raw: number; readonly expanded_uncertainty_pa: number | null } | null;
}

const SEEN = { epc: "3034257bf7194e4000001a85", pc: 0x3600, xpc: 0x0200, rssiDbm: -58.3, frequencyKhz: 866_300 };

export function madeReading(scene: MadeScene): ReplayCase {
  const given = readingPairs({
    user_words_0_31: formatHex(scene.memory),
    user_words_40_71: formatHex(scene.blocks),
    ambient: scene.ambient,
  });
  const head = {
    id: "made-reading",
    group: madeGroup("reading"),
    why: "Made by chance.",
    needs: "reading",
    verb: "reading",
  };
  return { ...head, about: "reading", given, expected: rightReading(scene) };
}

function rightReading({ memory, blocks, ambient }: MadeScene): Expected {
  const header = identifyHeader([layout], memory);
  if (isFault(header)) return badAnswer(header.code, header);
  const { fault } = chooseSlot(record("frame"), memory, 16, 32);
  if (fault) return badAnswer(fault.code, fault);
  const session = { started: null, barometerUncertaintyPa: ambient?.expanded_uncertainty_pa ?? null };
  const stream = new ReadingStream(layout, session, { kind: "kit_barometer" });
  if (ambient) stream.push({ kind: "ambient", kitTimeUs: 1000, pressureRaw: ambient.pressure_raw, temperatureC: null });
  const report = { kind: "read", ...SEEN, result: "done", bank: "user" } as const;
  stream.push({ ...report, kitTimeUs: 2000, word: 40, words: wordsOf(blocks) });
  const reading = stream.push({ ...report, kitTimeUs: 3000, word: 0, words: wordsOf(memory) })[0]!;
  if (reading.kind !== "reading") throw new Error(`a tag with a whole frame gave ${reading.kind}`);
  const { slot, calibration, absolute, gauge, expandedUncertaintyPa } = reading;
  if (absolute !== null && ambient && gauge === null) {
    return badAnswer("value-out-of-range", { byte: null, bit: null, path: "reading.gauge" });
  }
  return goodAnswer([
    must("slot", slot),
    must("copy", calibration?.copy ?? "none"),
    must("absolute_raw", absolute ?? "none"),
    must("gauge_raw", gauge ?? "none"),
    must("gauge_thousandths_mmhg", gauge === null ? "none" : thousandthsMmhg(gauge)),
    must(
      "uncertainty_thousandths_pa",
      expandedUncertaintyPa === null ? "none" : Math.round(1000 * expandedUncertaintyPa),
    ),
  ]);
}

/** 1 mmHg = 133.322387415 Pa; ties away from zero. */
function thousandthsMmhg(gaugeRaw: number): string {
  const [top, bottom] = [BigInt(Math.abs(gaugeRaw)) * 10n ** 12n, 128n * 133_322_387_415n];
  const rounded = (2n * top + bottom) / (2n * bottom);
  return gaugeRaw < 0 && rounded !== 0n ? `-${rounded}` : `${rounded}`;
}

function wordsOf(bytes: Uint8Array): number[] {
  return Array.from({ length: bytes.length / 2 }, (_, i) => (bytes[2 * i]! << 8) | bytes[2 * i + 1]!);
}
