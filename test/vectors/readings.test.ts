import { describe, expect, it } from "vitest";
import { toMmhg, toPascal } from "../../host/readings/pressure.ts";
import { ReadingStream } from "../../host/readings/reading-stream.ts";
import { calibratedAbsolute, calibratedGauge } from "../../protocol/codec/compensate.ts";
import { isFault } from "../../protocol/codec/encode.ts";
import { identifyHeader } from "../../protocol/codec/identify.ts";
import { namedRaws } from "../../protocol/codec/named.ts";
import { decode, rawOf } from "../../protocol/codec/record.ts";
import { chooseSlot } from "../../protocol/codec/slots.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { bytesOf, placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly user_words_0_31: string;
  readonly user_words_40_71: string;
  readonly ambient: { readonly pressure_raw: number; readonly expanded_uncertainty_pa: number | null } | null;
}

interface Calibrated {
  readonly slot: string;
  readonly calibration_copy: 1 | 2 | null;
  readonly absolute_raw: number | null;
  readonly gauge_raw: number | null;
  readonly gauge_pa: string | null;
  readonly gauge_mmhg: string | null;
  readonly expanded_uncertainty_pa: string | null;
}

const { good, bad } = vectorsOf<Given & { readonly repaired?: Given }, Calibrated>("readings.json");
const wordsOf = (hex: string) => (hex.match(/..../g) ?? []).map((word) => Number.parseInt(word, 16));

/** What a session makes of one read of the calibration and one of the frames. */
function streamed({ user_words_0_31, user_words_40_71, ambient }: Given) {
  const session = { started: null, barometerUncertaintyPa: ambient?.expanded_uncertainty_pa ?? null };
  const stream = new ReadingStream(layout, session, { kind: "kit_barometer" });
  if (ambient) stream.push({ kind: "ambient", kitTimeUs: 1000, pressureRaw: ambient.pressure_raw, temperatureC: null });
  const seen = { epc: "3034257bf7194e4000001a85", pc: 0x3600, xpc: 0x0200, rssiDbm: -58.3, frequencyKhz: 866_300 };
  const report = { kind: "read", ...seen, result: "done", bank: "user" } as const;
  stream.push({ ...report, kitTimeUs: 2000, word: 40, words: wordsOf(user_words_40_71) });
  const [outcome] = stream.push({ ...report, kitTimeUs: 3000, word: 0, words: wordsOf(user_words_0_31) });
  return outcome!;
}

/** The codec's own verdict, in the order header, slots, arithmetic; null when there is a calibrated gauge pressure. */
function refused({ user_words_0_31, user_words_40_71, ambient }: Given) {
  const user = bytesOf(user_words_0_31);
  const header = identifyHeader([layout], user);
  if (isFault(header)) return placeOf(header);
  const { frame, fault } = chooseSlot(recordOf(layout, "frame"), user, 16, 32);
  if (fault) return placeOf(fault);
  const block = decode(recordOf(layout, "calibration"), bytesOf(user_words_40_71), 0, 32);
  if (isFault(block)) expect.fail("every bad vector has a whole first copy");
  const [coefficients, temperature] = [namedRaws(block, "calibration"), rawOf(frame!, "temperature")];
  const absolute = calibratedAbsolute(rawOf(frame!, "pressure"), temperature, coefficients);
  const gauge = calibratedGauge(absolute, ambient!.pressure_raw, temperature, coefficients);
  return gauge === null ? { reason: "value-out-of-range", byte: null, bit: null, path: "reading.gauge" } : null;
}

describe("readings.json", () => {
  it.each(good)("$id", ({ given, expected }) => {
    const reading = streamed(given);
    if (reading.kind !== "reading") expect.fail(JSON.stringify(reading));
    expect(reading.slot).toBe(expected.slot);
    expect(reading.calibration?.copy ?? null).toBe(expected.calibration_copy);
    expect(reading.absolute).toBe(expected.absolute_raw);
    expect(reading.gauge).toBe(expected.gauge_raw);
    if (reading.gauge !== null) {
      expect(toPascal(reading.gauge)).toBeCloseTo(Number(expected.gauge_pa), 8);
      expect(toMmhg(reading.gauge)).toBeCloseTo(Number(expected.gauge_mmhg), 8);
    }
    if (expected.expanded_uncertainty_pa === null) expect(reading.expandedUncertaintyPa).toBeNull();
    else expect(reading.expandedUncertaintyPa).toBeCloseTo(Number(expected.expanded_uncertainty_pa), 8);
  });

  it.each(bad)("$id is refused", ({ given, expected }) => {
    expect(refused(given)).toEqual(placeAsked(expected));
    expect(refused(given.repaired!)).toBeNull();
  });

  it.each(bad)("$id gives no gauge pressure", ({ given }) => {
    const outcome = streamed(given);
    expect(outcome.kind === "reading" ? outcome.gauge : null).toBeNull();
  });
});
