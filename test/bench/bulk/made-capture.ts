/** A capture of any size from a seed, invented: reads of four tags, an ambient report every second, a few lines that are damaged. */
import { closeSync, openSync, writeSync } from "node:fs";
import { headerLine, reportLine } from "../../../host/capture/capture-writer.ts";
import type { TagReport } from "../../../host/reader/report.ts";
import { encode, formatHex, isFault, layout, recordOf } from "../../../protocol/index.ts";
import { Random } from "../../../sim/random.ts";

const EPCS = [
  "3066c4409047e14000004b01",
  "3066c4409047e14000004b02",
  "3066c4409047e14000004b03",
  "3066c4409047e14000004b04",
];
const FLUSH_BYTES = 4 * 1024 * 1024;

/** Writes at least `bytes` bytes of whole lines. */
export function writeCapture(file: string, bytes: number, seed: number): void {
  const out = openSync(file, "w");
  let held = "";
  let written = 0;
  for (const line of captureLines(seed)) {
    held += line;
    if (held.length < FLUSH_BYTES) continue;
    written += writeSync(out, Buffer.from(held, "latin1"));
    held = "";
    if (written >= bytes) break;
  }
  closeSync(out);
}

/** Lines of a capture without end. */
export function* captureLines(seed: number): Generator<string> {
  const random = new Random(seed, "capture");
  yield headerLine({
    version: 1,
    layout: layout.layout,
    fingerprint: layout.fingerprint,
    started: "2026-03-04T09:00:00.000Z",
    source: `made for a benchmark, seed ${seed}`,
    barometerUncertaintyPa: 12,
    note: "Every number is invented.",
  });
  const tags = EPCS.map((epc, index) => new MadeTag(epc, index, random));
  let timeUs = 1000;
  for (let i = 0; ; i++) {
    if (i % 40 === 0) {
      const pressureRaw = 12_900_000 + below(random, 20_000);
      yield reportLine({ kind: "ambient", kitTimeUs: timeUs, pressureRaw, temperatureC: 22.5 });
    }
    timeUs += 8000 + below(random, 4000);
    const line = reportLine(tags[i % tags.length]!.read(timeUs));
    yield below(random, 1000) === 0 ? damaged(line, random) : line;
  }
}

/** What can be wrong with a line: a digit, a character, an end that is missing, a member that is missing, another order. */
function damaged(line: string, random: Random): string {
  const words = line.indexOf('"words":"') + 9;
  const digit = words + 32 + below(random, 64);
  switch (below(random, 6)) {
    case 0:
      return `${line.slice(0, digit)}${line[digit] === "0" ? "1" : "0"}${line.slice(digit + 1)}`;
    case 1:
      return `${line.slice(0, digit)}x${line.slice(digit + 1)}`;
    case 2:
      return `${line.slice(0, digit)}\n`;
    case 3:
      return line.replace(/"pc":"[0-9a-f]*",/, "");
    case 4:
      return line.replace(/("epc":"[0-9a-f]*"),("pc":"[0-9a-f]*")/, "$2,$1");
    default:
      return line.replace('"done"', '"tag_lost"').replace(/"words":"[0-9a-f]*"/, '"words":""');
  }
}

function below(random: Random, limit: number): number {
  return random.integer() % limit;
}

function sealed(record: string, raws: Parameters<typeof encode>[1]): string {
  const bytes = encode(recordOf(layout, record), raws);
  if (isFault(bytes)) throw new Error(`${bytes.path}: ${bytes.code}`);
  return formatHex(bytes);
}

class MadeTag {
  readonly #epc: string;
  readonly #random: Random;
  readonly #header: string;
  readonly #counters: string;
  readonly #slots: [string, string];
  #sequence = 0;
  #uptime = 0;

  constructor(epc: string, index: number, random: Random) {
    this.#epc = epc;
    this.#random = random;
    this.#header = sealed("header", {
      fingerprint: layout.fingerprint,
      firmware_major: 1,
      firmware_minor: 0,
      sampling_period: 250,
      sensor_serial: 40_001 + index,
    });
    this.#counters = sealed("counters", {
      reuse_cycles: 1,
      cold_starts: 3,
      fruitless_starts: 0,
      brown_outs: 0,
      frames: 77,
    });
    this.#slots = [this.#frame(), this.#frame()];
  }

  read(kitTimeUs: number): TagReport {
    if (below(this.#random, 3) === 0) this.#slots[this.#sequence % 2] = this.#frame();
    const hex = this.#header + this.#slots.join("") + this.#counters;
    const words = Array.from({ length: hex.length / 4 }, (_, i) => Number.parseInt(hex.slice(4 * i, 4 * i + 4), 16));
    return {
      kind: "read",
      kitTimeUs,
      epc: this.#epc,
      pc: 0x3600,
      xpc: 0x0200,
      rssiDbm: -(300 + below(this.#random, 200)) / 10,
      frequencyKhz: 865_700 + 600 * below(this.#random, 4),
      result: "done",
      bank: "user",
      word: 0,
      words,
    };
  }

  #frame(): string {
    const random = this.#random;
    return sealed("frame", {
      status: below(random, 50) === 0 ? 1 : 0,
      sequence: this.#sequence++ & 0xffff,
      pressure: 12_969_600 + below(random, 1_000_000),
      temperature: 2500 + below(random, 700),
      supply: 1800 + below(random, 1000),
      uptime: (this.#uptime += 3),
    });
  }
}
