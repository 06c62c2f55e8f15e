/** `plyframe read --append`: a session that goes on where an earlier one left its capture, whatever state that is in. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { captureEnd } from "../../../host/cli/capture-end.ts";
import { complaints, legLines, linesOf, plyframe, start, testFolder } from "../../support/plyframe.ts";
import { ScriptedKit } from "../../support/scripted-kit.ts";
import { EPC, frame, service } from "../readings/tag-words.ts";

const WORDS = EPC.match(/.{4}/g)!.map((word) => Number.parseInt(word, 16));

/** A kit on which the tag measures on from one connection to the next, and a capture that may be there already. */
async function bench(there: string | Uint8Array | null = null) {
  const sights = (first: number) =>
    [first, first + 1].map((sequence) => ({
      timeUs: sequence * 100_000,
      epc: WORDS,
      words: service({ a: frame({ sequence }), b: frame({ sequence: sequence - 1 }) }).words,
    }));
  const kit = await new ScriptedKit([{ sights: sights(7) }, { sights: sights(9) }]).listen();
  const capture = join(testFolder(), "leg.jsonl");
  if (there !== null) writeFileSync(capture, there);
  const words = ["read", "--json", "--port", kit.port, "--capture", capture, "--append"];
  /** Reads until that sequence number was shown. */
  const read = async (sequence = 8) => {
    const reading = start(words);
    await Promise.race([reading.said(new RegExp(`"sequence":${sequence},`)), reading.ended]);
    reading.stop("SIGINT");
    return reading.ended;
  };
  return { kit, capture, read, text: () => readFileSync(capture, "utf8") };
}

const [header, ...records] = legLines;
const three = [header, ...records.slice(0, 3)].map((line) => `${line}\n`).join("");

describe("a capture that a session goes on in", () => {
  it("begins when it is not there, and holds both sessions when the same command is given again", async () => {
    const { read, capture, text } = await bench();
    const first = await read();
    const before = text();
    const second = await read(10);
    expect([first.status, second.status]).toEqual([0, 0]);
    expect(text().startsWith(before)).toBe(true);
    const added = linesOf(text().slice(before.length));
    expect(added[0]).toMatch(/^\{"record":"capture",/);
    const sequences = linesOf(first.stdout + second.stdout).map((line) => JSON.parse(line).sequence);
    expect(sequences).toEqual([7, 8, 9, 10]);
    const again = await plyframe(["decode", "--json", capture]);
    expect([again.status, again.stdout]).toEqual([0, first.stdout + second.stdout]);
  });

  it("begins when it is empty", async () => {
    const { read, text } = await bench("");
    expect((await read()).status).toBe(0);
    expect(text()).toMatch(/^\{"record":"capture",/);
  });

  it.each([
    ["in the middle of a record", records[3]!.slice(0, 57), "57 bytes"],
    ["after one byte", "{", "1 bytes"],
    [
      "by a system that filled what was missing with zeros",
      `${records[3]!.slice(0, 40)}${"\0".repeat(30)}`,
      "70 bytes",
    ],
    ["in the middle of a letter of two bytes", Buffer.from('{"site":"é').subarray(0, -1), "10 bytes"],
  ])("that was cut off %s is mended, and it is said", async (_, torn, says) => {
    const { read, capture, text } = await bench(Buffer.concat([Buffer.from(three), Buffer.from(torn)]));
    const ended = await read();
    expect(ended.status).toBe(0);
    expect(ended.stderr).toContain(`${capture}: the last record was cut off in the middle; its ${says} were taken out`);
    expect(text().startsWith(`${three}{"record":"capture",`)).toBe(true);
    expect((await plyframe(["decode", "--json", capture])).status).toBe(0);
  });

  it("that only lacks its last line end keeps its last record", async () => {
    const { read, text } = await bench(three.slice(0, -1));
    const ended = await read();
    expect([ended.status, ended.stderr.includes("cut off")]).toEqual([0, false]);
    expect(text().startsWith(`${three}{"record":"capture",`)).toBe(true);
  });
});

it("finds the last whole record wherever the last one was cut off", () => {
  const capture = join(testFolder(), "leg.jsonl");
  const last = records[3]!;
  for (let cut = 1; cut < last.length; cut++) {
    writeFileSync(capture, three + last.slice(0, cut));
    expect(captureEnd(capture)).toEqual({ bytes: three.length, torn: last.slice(0, cut), open: false });
  }
  writeFileSync(capture, three + last);
  expect(captureEnd(capture)).toEqual({ bytes: three.length + last.length, torn: null, open: true });
});

describe("a file that is no capture to go on in", () => {
  const other = (member: string, value: unknown) => `${JSON.stringify({ ...JSON.parse(header!), [member]: value })}\n`;

  it.each<[string, string | Uint8Array, RegExp]>([
    ["notes", "what the nurse said\nand more", /it does not begin with a capture's header$/],
    ["JSON of another kind", '{"a":1}\n', /it does not begin with a capture's header$/],
    ["a header cut off", header!.slice(0, 60), /it does not begin with a capture's header$/],
    ["a packed capture", gzipSync(three), /it does not begin with a capture's header$/],
    ["CSV", "record,kit_time_us,epc\nread,1,30\n", /it does not begin with a capture's header$/],
    ["a last line beyond all records", `${three}${"x".repeat(65_536)}`, /its last line has more than 65536 bytes$/],
    ["another layout", other("layout", 2) + records[0], /written with layout 2, read with 1\) \[layout-unknown\]$/],
    ["another version", other("version", 9) + records[0], /\(9, this program reads 1\) \[version-unknown\]$/],
  ])("(%s) is refused and left alone, before the kit is asked anything", async (_, there, says) => {
    const { kit, capture, read } = await bench(there);
    const ended = await read();
    expect(complaints(ended)).toEqual([expect.stringMatching(says)]);
    expect([ended.status, kit.connections]).toEqual([2, 0]);
    expect(readFileSync(capture)).toEqual(Buffer.from(there));
  });
});

it.each([[["--append"]], [["--append", "--capture", "leg.jsonl", "--overwrite"]]])("%j is wrong use", async (words) => {
  const ended = await plyframe(["read", "--port", "tcp:127.0.0.1:1", ...words]);
  expect([ended.status, complaints(ended)]).toEqual([
    2,
    ["plyframe: --append goes on in the file that --capture names; --overwrite would replace it"],
  ]);
});
