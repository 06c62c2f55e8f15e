/** Numbers of reason codes as the list in protocol/MEMORY-MAP.md has them, and the sentence of a fault. */
import { describe, expect, it } from "vitest";
import { type Fault, reasonByNumber, sentence } from "../../../protocol/model/reasons.ts";

describe("reasons", () => {
  it("are found by their number", () => {
    expect([1, 4, 43, 104].map(reasonByNumber)).toEqual([
      "record-too-short",
      "checksum-mismatch",
      "message-unknown",
      "llrp-parameter-unexpected",
    ]);
    expect([0, 13, 255].map(reasonByNumber)).toEqual([undefined, undefined, undefined]);
  });
});

describe("the sentence of a fault", () => {
  const fault: Fault = {
    code: "kind-unexpected",
    byte: 2,
    bit: 12,
    path: "frame.kind",
    expected: "2",
    actual: "3",
  };

  it("has path, meaning, place, expected, found and code", () => {
    expect(sentence(fault)).toBe(
      "frame.kind: a sealed record of another kind (byte 2, bit 12: expected 2, found 3) [kind-unexpected]",
    );
  });

  it("says no bit where the fault has none", () => {
    expect(sentence({ ...fault, bit: null })).toContain("(byte 2: expected 2, found 3)");
    expect(sentence({ ...fault, bit: 0 })).toContain("(byte 2, bit 0: ");
  });
});
