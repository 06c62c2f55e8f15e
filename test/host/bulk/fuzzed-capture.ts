/** Captures made to be difficult, from a seed: every kind of line a scanner could take for another. */
import { encode, formatHex, layout, recordOf } from "../../../protocol/index.ts";
import type { Random } from "../../../sim/random.ts";
import { readVectorFile } from "../../support/vectors.ts";

/** Words of the regions, by the memory map. */
const REGIONS = { header: 0, slot_a: 8, slot_b: 16, counters: 24, calibration: 40, burst: 72 } as const;
const FILES = ["frames", "header", "counters", "calibration", "burst", "verdict-order"];

interface Given {
  readonly record: string;
  readonly hex: string;
}

/** Hex of every record in the vectors, good and bad, by its kind. */
const recordsOfVectors = new Map<string, string[]>();
for (const file of FILES) {
  for (const { record, hex } of readVectorFile(`${file}.json`).vectors as unknown as Given[]) {
    if (hex.length % 4 === 0) recordsOfVectors.set(record, [...(recordsOfVectors.get(record) ?? []), hex]);
  }
}

export function fuzzedCapture(random: Random, lines: number): Buffer {
  const pieces: Buffer[] = random.integer() % 8 === 0 ? [] : [Buffer.from(header(random))];
  if (random.integer() % 4 === 0) pieces.unshift(Buffer.from("\uFEFF"));
  const style = random.integer() % 3 === 0 ? plainStyle : styleOf(random);
  for (let i = 0; i < lines; i++) pieces.push(line(random, style));
  if (random.integer() % 2 === 0) pieces.push(Buffer.from(read(random).trimEnd()));
  return Buffer.concat(pieces);
}

function below(random: Random, limit: number): number {
  return random.integer() % limit;
}

function pick<T>(random: Random, list: readonly T[]): T {
  return list[below(random, list.length)]!;
}

/** How one program writes all its records. */
type Style = (text: string) => string;

const plainStyle: Style = (text) => text;

function styleOf(random: Random): Style {
  const rank = new Map<string, number>();
  const order = (name: string) => {
    if (!rank.has(name)) rank.set(name, random.integer());
    return rank.get(name)!;
  };
  const comma = pick(random, [",", ", ", " ,\t"]);
  const colon = pick(random, [":", ": ", " :"]);
  const extra = pick(random, [
    [],
    [["antenna", 1]],
    [
      ["remark", "x"],
      ["ok", true],
    ],
  ] as [string, unknown][][]);
  const end = pick(random, ["\n", "\r\n", " \n"]);
  return (text) => {
    const entries = Object.entries({ ...JSON.parse(text), ...Object.fromEntries(extra) });
    const members = entries.sort(([a], [b]) => order(a) - order(b));
    return `{${members.map(([name, value]) => `"${name}"${colon}${JSON.stringify(value)}`).join(comma)}}${end}`;
  };
}

function line(random: Random, style: Style): Buffer {
  const kind = below(random, 100);
  if (kind >= 96) return Buffer.from(odd(random));
  const text = kind === 95 ? header(random) : style(kind < 80 ? read(random) : ambient(random));
  const mutate = below(random, 100);
  if (mutate < 85) return Buffer.from(text);
  if (mutate < 93) return Buffer.from(rewritten(text, random));
  return damaged(Buffer.from(text), random);
}

function header(random: Random): string {
  const record = {
    record: "capture",
    version: below(random, 40) === 0 ? 2 : 1,
    layout: below(random, 40) === 0 ? 9 : 1,
    fingerprint: below(random, 8) === 0 ? "01234567" : formatHex(numberBytes(layout.fingerprint)),
    started: "2026-03-04T09:00:00.000Z",
    source: "made to be difficult",
    barometer_uncertainty_pa: below(random, 10) === 0 ? "much" : 12,
  };
  return `${JSON.stringify(record)}\n`;
}

function numberBytes(value: number): number[] {
  return [24, 16, 8, 0].map((shift) => (value >>> shift) & 0xff);
}

function frameHex(random: Random): string {
  const sequence = pick(random, [0, 1, 2, 0x7fff, 0x8000, 0xffff, below(random, 65_536)]);
  const pressure = pick(random, [3_328_000, 16_128_000, 16_777_215, 12_969_600 + below(random, 1_000_000)]);
  const temperature = pick(random, [-4000, 12_500, -32_768, below(random, 3000)]);
  const supply = pick(random, [0, 4095, below(random, 4096)]);
  const raws = {
    status: below(random, 256),
    sequence,
    pressure,
    temperature,
    supply,
    uptime: below(random, 1_048_576),
  };
  return formatHex(encode(recordOf(layout, "frame"), raws) as Uint8Array);
}

function regionHex(record: string, random: Random): string {
  const choice = below(random, 10);
  const bytes = recordOf(layout, record).bytes;
  if (choice === 0) return "0".repeat(2 * bytes);
  if (choice === 1) return Array.from({ length: 2 * bytes }, () => below(random, 16).toString(16)).join("");
  if (record === "frame" && choice < 8) return frameHex(random);
  return pick(random, recordsOfVectors.get(record)!)
    .padEnd(2 * bytes, "0")
    .slice(0, 2 * bytes);
}

function userWords(random: Random): { word: number; words: string } {
  const place = pick(random, ["header", "header", "header", "slot_a", "slot_b", "calibration", "burst"] as const);
  if (place === "calibration") {
    return { word: 40, words: regionHex("calibration", random) + regionHex("calibration", random) };
  }
  if (place === "burst") return { word: 72, words: regionHex("burst", random) };
  const slot = frameHex(random);
  const all = [
    regionHex("header", random),
    below(random, 3) === 0 ? slot : regionHex("frame", random),
    below(random, 3) === 0 ? slot : regionHex("frame", random),
    regionHex("counters", random),
  ].join("");
  const from = place === "header" ? 0 : REGIONS[place];
  const count = pick(random, [32, 32, 32, 24, 16, 8, 0, below(random, 40)]);
  return { word: from, words: all.slice(4 * from, 4 * (from + count)) };
}

function members(random: Random): Record<string, unknown> {
  const { word, words } = userWords(random);
  return {
    record: "read",
    kit_time_us:
      below(random, 30) === 0
        ? pick(random, [-1, 281_474_976_710_655, 281_474_976_710_656, 1e3, 0.5, 1e21])
        : below(random, 1e9),
    epc: pick(random, [
      "3066c4409047e14000004b01",
      "3066C4409047E14000004B02",
      "",
      "30",
      "3066",
      `30f4${"0".repeat(120)}`,
      "1".repeat(128),
      "3066-c440",
      `30660000000000000000${(below(random, 65_536) + 65_536).toString(16).slice(1)}`,
    ]),
    pc: pick(random, ["3600", "3600", "3600", "360", "36 00", "36000000"]),
    xpc: "0200",
    rssi_dbm: pick(random, [null, -35.4, -3276.7, 3276.7, 3276.8, 0, -1e-7, -35.123456789012, "-35"]),
    frequency_khz: pick(random, [865_700, 0, 4_294_967_295, 4_294_967_296, 865_700.5]),
    result: pick(random, ["done", "done", "done", "done", "not_asked", "tag_lost", "password_wrong", "melted", "don"]),
    bank: pick(random, ["user", "user", "user", "user", "tid", "epc", "reserved", "users"]),
    word: below(random, 20) === 0 ? pick(random, [65_535, 65_536, 1, 7, 9, 103, 104]) : word,
    words:
      below(random, 40) === 0 ? pick(random, ["0", "00", "zz", "0".repeat(1020), "0".repeat(1024), "00 11"]) : words,
  };
}

function read(random: Random): string {
  return `${JSON.stringify(usual(random, members(random)))}\n`;
}

/** Mostly a good line: each doubtful member is left doubtful in one line of twenty. */
function usual(random: Random, all: Record<string, unknown>): Record<string, unknown> {
  const good: Record<string, unknown> = {
    epc: "3066c4409047e14000004b01",
    pc: "3600",
    rssi_dbm: -below(random, 900) / 10,
    frequency_khz: 865_700,
    result: below(random, 10) === 0 ? "tag_lost" : "done",
    bank: "user",
  };
  for (const id of Object.keys(good)) if (below(random, 40) !== 0) all[id] = good[id];
  return all;
}

function ambient(random: Random): string {
  const record = {
    record: "ambient",
    kit_time_us: below(random, 1e9),
    pressure_raw: pick(random, [12_900_000, 3_328_000, 16_128_000, 3_327_999, 16_128_001]),
    temperature_cel: pick(random, [22.5, null, -40, 125, 125.01]),
  };
  return `${JSON.stringify(record)}\n`;
}

function odd(random: Random): string {
  return pick(random, [
    "\n",
    "  \t \r\n",
    "[]\n",
    "null\n",
    "{}\n",
    '{"record":"other"}\n',
    '{"record":["read"]}\n',
    `{"record":"read","kit_time_us":${"1".repeat(400)}}\n`,
    `"${"x".repeat(66_000)}"\n`,
    `${"y".repeat(65_535)}\n`,
    `${"z".repeat(140_000)}\n`,
    "record,kit_time_us\n",
    `\uFEFF${read(random)}`,
  ]);
}

/** The same record written another way, or nearly the same. */
function rewritten(text: string, random: Random): string {
  const end = text.trimEnd();
  const value = /"(kit_time_us|word|frequency_khz|rssi_dbm|pressure_raw)":(-?\d+)/;
  switch (below(random, 14)) {
    case 0:
      return `${end}\r\n`;
    case 1:
      return `${end.replaceAll(",", ", ").replaceAll(":", ": ")}\n`;
    case 2:
      return `  ${end}  \n`;
    case 3:
      return `{"antenna":1,${end.slice(1)}\n`;
    case 4:
      return `${end.slice(0, -1)},"remark":${pick(random, ['"a b"', '"ä"', '"\\u0041"', "true", "1e5", "[1]", "{}", "01", '"\t"'])}}\n`;
    case 5:
      return `${end.slice(0, -1)},"word":0}\n`;
    case 6:
      return text.replace('"record"', '"\\u0072ecord"');
    case 7:
      return text.replace(value, `"$1":$2${pick(random, ["e0", ".0", ".", "0000000000000000", "E+2", ".50"])}`);
    case 8:
      return text.replace(value, `"$1":${pick(random, ["00", "-0", "+1", "0x10", "01", "-", ".5", "null", "NaN"])}`);
    case 9:
      return `${JSON.stringify(Object.fromEntries(random.shuffled(Object.entries(JSON.parse(end)))))}\n`;
    case 10:
      return text.replace(/"words":"([0-9a-f]*)"/, (_, hex: string) => `"words":"${hex.toUpperCase()}"`);
    case 11:
      return text.replace(/"words":"([0-9a-f]{4})/, '"words":"$1 ');
    case 12:
      return text.replace(/"(\w+)":[^,}]*,/, "");
    default:
      return `${end}${end}\n`;
  }
}

function damaged(text: Buffer, random: Random): Buffer {
  const at = below(random, text.length);
  switch (below(random, 5)) {
    case 0:
      text[at] = below(random, 256);
      return text;
    case 1:
      return Buffer.concat([text.subarray(0, at), text.subarray(at + 1 + below(random, 8))]);
    case 2:
      return Buffer.concat([text.subarray(0, at), Buffer.from([below(random, 256)]), text.subarray(at)]);
    case 3:
      return Buffer.concat([text.subarray(0, at), Buffer.from("\n")]);
    default:
      text[at] = text[at]! ^ (1 << below(random, 8));
      return text;
  }
}
