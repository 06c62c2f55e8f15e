/** Each fault of a capture: one sentence with its place, the rest goes on, everything is counted, rejects are kept. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { complaints, legLines, plyframe, testFolder } from "../../support/plyframe.ts";
import { frame, header } from "../readings/tag-words.ts";

const [head, ...rest] = legLines as [string, ...string[]];
const good = rest.filter((line) => line.includes('"word":0,')).slice(0, 3);
const bad = JSON.parse(good[1]!) as { [name: string]: unknown; words: string };
const changed = (changes: object) => JSON.stringify({ ...bad, ...changes });
const hex = (...records: readonly (readonly number[])[]) => Buffer.from(records.flat()).toString("hex");

const torn = frame();
torn[6]! ^= 0x40;

/** What is wrong, the line, and what its sentence must say. Codes: the closed list in the memory map. */
const faults: readonly (readonly [string, string | Uint8Array, RegExp])[] = [
  ["truncated hex", changed({ words: bad.words.slice(0, -2) }), /words: .*cut short.*\[field-invalid\]/],
  ["odd number of digits", changed({ words: bad.words.slice(0, -1) }), /words: .*odd number.*\[hex-odd-length\]/],
  ["bad digit", changed({ words: bad.words.replace(/^../, "0g") }), /words: .*"g", character 2.*\[hex-bad-digit\]/],
  ["wrong checksum", changed({ words: hex(header(), torn, torn) }), /checksum-mismatch.*\[slots-both-bad\]/],
  [
    "unknown layout",
    changed({ words: hex(header({ layout: 9 }), frame({ layout: 9 }), frame({ layout: 9 })) }),
    /layout 9, read with 1.*\[layout-unknown\]/,
  ],
  [
    "reserved bit",
    changed({ words: hex(header(), frame({ reserved: 128 }), frame({ reserved: 128 })) }),
    /reserved-bit-set at frame\.reserved.*\[slots-both-bad\]/,
  ],
  [
    "pressure out of range",
    changed({ words: hex(header(), frame({ pressure: 1000 }), frame({ pressure: 1000 })) }),
    /value-out-of-range at frame\.pressure.*\[slots-both-bad\]/,
  ],
  ["kit time out of range", changed({ kit_time_us: -5 }), /kit_time_us: .*-5.*\[value-out-of-range\]/],
  ["missing member", changed({ epc: undefined }), /epc: .*\[field-missing\]/],
  ["cut line", good[1]!.slice(0, 60), /not a JSON object.*\[json-invalid\]/],
  ["binary rubbish", Uint8Array.of(0, 0x9f, 0xff, 0xfe, 0x1b, 0x5b), /no UTF-8 text.*\[json-invalid\]/],
];

async function decodeWith(line: string | Uint8Array) {
  const folder = testFolder();
  const [file, kept] = [join(folder, "leg.jsonl"), join(folder, "rejects")];
  const end = Buffer.from("\n");
  const pieces = [head, good[0]!, line, good[2]!].flatMap((piece) => [Buffer.from(piece), end]);
  writeFileSync(file, Buffer.concat(pieces));
  const ended = await plyframe(["decode", "--json", "--rejects", kept, file]);
  return { ...ended, file, kept: readFileSync(kept), line: Buffer.concat([Buffer.from(line), end]) };
}

describe("a capture with one bad line", () => {
  it.each(faults)("%s", async (_, line, says) => {
    const ended = await decodeWith(line);
    const [sentence, ...more] = complaints(ended);
    expect(more).toEqual([]);
    expect(sentence!.startsWith(`plyframe: ${ended.file}:3: `)).toBe(true);
    expect(sentence).toMatch(says);
    expect(ended.status).toBe(1);
    expect(ended.stdout.match(/\n/g)).toHaveLength(2);
    expect(ended.kept).toEqual(ended.line);
    expect(ended.stderr).toContain("1 records rejected");
  });

  it("without one is decoded with status 0 and keeps nothing", async () => {
    const ended = await decodeWith(good[1]!);
    expect(complaints(ended)).toEqual([]);
    expect([ended.status, ended.kept.length]).toEqual([0, 0]);
  });
});

describe("a CSV file with a missing column", () => {
  it("names the column and rejects every row", async () => {
    const folder = testFolder();
    const names = Object.keys(bad).filter((name) => name !== "epc");
    const rows = [names.join(","), names.map((name) => bad[name]).join(","), names.map((name) => bad[name]).join(",")];
    writeFileSync(join(folder, "leg.csv"), `${rows.join("\n")}\n`);
    const ended = await plyframe(["decode", "--rejects", "rejects", "leg.csv"], { cwd: folder });
    expect(complaints(ended)).toEqual([expect.stringMatching(/^plyframe: leg\.csv:1: epc: .*\[column-missing\]$/)]);
    expect([ended.status, ended.stdout]).toEqual([1, ""]);
    expect(readFileSync(join(folder, "rejects"), "utf8")).toBe(`${rows.slice(1).join("\n")}\n`);
  });
});
