/**
 * Byte stuffing against the rules of S. Cheshire and M. Baker, "Consistent Overhead Byte Stuffing", IEEE/ACM Transactions on
 * Networking 7(2), 1999: from memory, the examples worked by hand from those rules, without the closing delimiter.
 */
import { describe, expect, it } from "vitest";
import { maxStuffed, stuff, unstuff } from "../../protocol/link/cobs.ts";

const upTo = (last: number) => Array.from({ length: last }, (_, i) => i + 1);

const examples: { name: string; plain: number[]; stuffed: number[] }[] = [
  { name: "nothing", plain: [], stuffed: [0x01] },
  { name: "one zero", plain: [0x00], stuffed: [0x01, 0x01] },
  { name: "two zeros", plain: [0x00, 0x00], stuffed: [0x01, 0x01, 0x01] },
  { name: "a byte between zeros", plain: [0x00, 0x11, 0x00], stuffed: [0x01, 0x02, 0x11, 0x01] },
  { name: "a zero inside", plain: [0x11, 0x22, 0x00, 0x33], stuffed: [0x03, 0x11, 0x22, 0x02, 0x33] },
  { name: "no zero", plain: [0x11, 0x22, 0x33, 0x44], stuffed: [0x05, 0x11, 0x22, 0x33, 0x44] },
  { name: "zeros at the end", plain: [0x11, 0x00, 0x00, 0x00], stuffed: [0x02, 0x11, 0x01, 0x01, 0x01] },
  { name: "253 bytes without a zero", plain: upTo(253), stuffed: [0xfe, ...upTo(253)] },
  { name: "254 bytes without a zero", plain: upTo(254), stuffed: [0xff, ...upTo(254)] },
  { name: "255 bytes without a zero", plain: upTo(255), stuffed: [0xff, ...upTo(254), 0x02, 0xff] },
  { name: "254 bytes, then a zero", plain: [...upTo(254), 0x00], stuffed: [0xff, ...upTo(254), 0x01, 0x01] },
];

/** Plain bytes of a stuffing, null when it is refused. */
function unstuffed(stuffed: number[]): number[] | null {
  const out = new Uint8Array(stuffed.length);
  const length = unstuff(stuffed, 0, stuffed.length, out);
  return length < 0 ? null : [...out.subarray(0, length)];
}

describe("COBS", () => {
  it.each(examples)("$name", ({ plain, stuffed }) => {
    expect([...stuff(plain)]).toEqual(stuffed);
    expect(unstuffed(stuffed)).toEqual(plain);
  });

  it.each([
    { name: "a zero inside", stuffed: [0x03, 0x11, 0x00] },
    { name: "a zero as code", stuffed: [0x02, 0x11, 0x00, 0x01] },
    { name: "a code past the end", stuffed: [0x05, 0x11, 0x22] },
  ])("rejects $name", ({ stuffed }) => {
    expect(unstuffed(stuffed)).toBeNull();
  });

  // By the paper's encoder, which ends 254 bytes without a zero with a code of its own.
  it.each([
    [0, 1],
    [253, 254],
    [254, 256],
    [508, 511],
    [1028, 1033],
  ])("needs for %i bytes %i at most", (plain, longest) => {
    expect(maxStuffed(plain)).toBe(longest);
  });

  it("unstuffs a stretch of a longer array", () => {
    const out = new Uint8Array(4);
    expect(unstuff([0xee, 0x02, 0x11, 0x02, 0x22, 0xee], 1, 5, out)).toBe(3);
    expect([...out]).toEqual([0x11, 0, 0x22, 0]);
    expect(unstuff([0x02, 0x11, 0x22], 0, 1, out)).toBe(-1);
  });

  it("adds at most one byte in 254, and at least one", () => {
    for (let length = 0; length <= 1100; length++) {
      const stuffed = stuff(new Uint8Array(length).fill(0xaa));
      expect(stuffed.length).toBeLessThanOrEqual(length + Math.max(1, Math.ceil(length / 254)));
      expect(stuffed.length).toBeGreaterThan(length);
    }
  });
});
