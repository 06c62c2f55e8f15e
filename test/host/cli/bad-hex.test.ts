/** Hex as people paste it into explain. */
import { describe, expect, it } from "vitest";
import { complaints, plyframe } from "../../support/plyframe.ts";
import { frame } from "../readings/tag-words.ts";

const hex = (bytes: readonly number[]) => Buffer.from(bytes).toString("hex");

describe("explain", () => {
  it.each([
    ["an odd number of digits", "2101000", /^plyframe: hex:1, character 7: an odd number.*\[hex-odd-length\]$/],
    ["a bad digit", "2101 00g7", /^plyframe: hex:1, character 8: "g" is no hex digit \[hex-bad-digit\]$/],
    ["nothing at all", "", /^plyframe: nothing to explain/],
    ["a start that is no sealed record", "ffff0000", /^plyframe: no kind of sealed record starts like this/],
  ])("refuses %s", async (_, text, says) => {
    const ended = await plyframe(["explain", text]);
    expect(complaints(ended)).toEqual([expect.stringMatching(says)]);
    expect([ended.status, ended.stdout]).toEqual([2, ""]);
  });

  it("finds the place of a bad digit in a dump with addresses and a text column", async () => {
    const input = "0000: 2101 0007  |!...|\n0004: 00c5 zz31  |..z1|\n";
    const ended = await plyframe(["explain", "-"], { input });
    expect(complaints(ended)).toEqual([
      'plyframe: standard input:2, character 12: "z" is no hex digit [hex-bad-digit]',
    ]);
    expect(ended.status).toBe(2);
  });

  it("shows what arrived of a short frame, with status 1", async () => {
    const ended = await plyframe(["explain", "--json", hex(frame({ sequence: 258 }).slice(0, 6))]);
    const { fault, fields, missing } = JSON.parse(ended.stdout);
    expect(fault.code).toBe("record-too-short");
    expect(fields.find(({ field }: { field: string }) => field === "sequence").raw).toBe(258);
    expect(missing).toContain("pressure");
    expect(ended.status).toBe(1);
  });

  it.each([
    ["a wrong checksum", [...frame().slice(0, 15), frame()[15]! ^ 1], "checksum-mismatch"],
    ["a reserved bit", frame({ reserved: 1 }), "reserved-bit-set"],
    ["a pressure out of range", frame({ pressure: 5 }), "value-out-of-range"],
    ["an unknown layout", frame({ layout: 3 }), "layout-unknown"],
  ])("names %s, with status 1", async (_, bytes, code) => {
    const ended = await plyframe(["explain", hex(bytes)]);
    expect(ended.stdout).toContain(`: ${code}\n`);
    expect(ended.stdout).toContain(`[${code}]`);
    expect(ended.status).toBe(1);
  });

  it("finds a good frame good, with status 0", async () => {
    const ended = await plyframe(["explain", hex(frame({ temperature: -1234 }))]);
    expect(ended.stdout).toMatch(/: good\n/);
    expect(ended.stdout).toContain("-12.34 Cel");
    expect([ended.status, ended.stderr]).toEqual([0, ""]);
  });
});
