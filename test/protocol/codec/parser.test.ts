/** The binary-parser decoder on its own: verdict order, places, and no exception that is not a fault. */
import { describe, expect, it, vi } from "vitest";
import { encode, isFault } from "../../../protocol/codec/encode.ts";
import { decodeWithParser } from "../../../protocol/codec/parser.ts";
import { readers } from "../../../protocol/emitted/parsers.ts";
import { compile, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";

const layout = compile(specification);
const frame = recordOf(layout, "frame");
const report = recordOf(layout, "tag_report");

const good = encode(frame, {
  status: 0,
  sequence: 7,
  pressure: 12_969_600,
  temperature: 2250,
  supply: 1800,
  uptime: 12,
}) as Uint8Array;

function code(record: typeof frame, bytes: Uint8Array): string {
  const answer = decodeWithParser(record, bytes);
  return isFault(answer) ? `${answer.code} ${answer.path} ${answer.byte}` : "good";
}

/** A copy with one byte changed and, for records that have one, no new seal. */
function changed(bytes: Uint8Array, at: number, value: number): Uint8Array {
  const copy = Uint8Array.from(bytes);
  copy[at] = value;
  return copy;
}

describe("decodeWithParser", () => {
  it("gives the raw values in the order of the fields", () => {
    const answer = decodeWithParser(frame, good);
    expect(isFault(answer) ? answer : [...Array.from(answer.raws)].slice(0, -1)).toEqual([
      2, 1, 0, 7, 0, 12_969_600, 2250, 1800, 12,
    ]);
  });

  it("reads at an offset and takes any kind of Uint8Array", () => {
    const buffer = Buffer.concat([Buffer.from([1, 2, 3]), good, Buffer.from([9])]);
    expect(isFault(decodeWithParser(frame, buffer, 3, 19))).toBe(false);
  });

  it("judges length, then emptiness, then the seal", () => {
    expect(code(frame, good.subarray(0, 15))).toBe("record-too-short frame 15");
    expect(code(frame, new Uint8Array(0))).toBe("record-too-short frame 0");
    expect(code(frame, new Uint8Array(17))).toBe("record-empty frame 0");
    expect(code(frame, Uint8Array.of(...good, 0))).toBe("trailing-bytes frame 16");
    expect(code(frame, changed(good, 2, 0xff))).toBe("checksum-mismatch frame.seal 14");
    expect(code(frame, new Uint8Array(16).fill(0xff))).toBe("checksum-mismatch frame.seal 14");
  });

  it("reads tails by their counts and rejects counts that do not fit", () => {
    const values = { kit_time: 5, pc: 0x3400, xpc: 0, rssi: -500, frequency: 866_300, result: 0, bank: 3, pointer: 8 };
    const tails = { epc: [1, 2, 3, 4, 5, 6], words: [0xffff, 0] };
    const bytes = encode(report, { ...values, epc_words: 6, word_count: 2 }, tails) as Uint8Array;
    const answer = decodeWithParser(report, bytes);
    expect(isFault(answer) ? answer : answer.tails).toEqual(tails);
    expect(code(report, bytes.subarray(0, -1))).toBe("count-mismatch tag_report.word_count 22");
    expect(code(report, Uint8Array.of(...bytes, 0))).toBe("count-mismatch tag_report.word_count 22");
  });

  it("names the count of the only tail", () => {
    const read = recordOf(layout, "read");
    const access = Uint8Array.of(0, 0, 0, 0, 3, 0, 8, 16, 2, 0x30, 0x34);
    expect(decodeWithParser(read, access)).toMatchObject({
      code: "count-mismatch",
      path: "read.epc_words",
      expected: "13 bytes",
      actual: "11 bytes",
    });
  });

  it("maps whatever a chain throws to a fault", () => {
    const broken = vi.spyOn(readers, "frame").mockImplementation(() => {
      throw new RangeError("Offset is outside the bounds of the DataView");
    });
    expect(code(frame, good)).toBe("record-too-short frame 16");
    expect(broken).toHaveBeenCalledOnce();
    broken.mockRestore();
  });

  it("throws for a record no chain was emitted for, a programming error", () => {
    expect(() => decodeWithParser({ ...frame, id: "other" }, good)).toThrow("no chain was emitted for record other");
  });
});
