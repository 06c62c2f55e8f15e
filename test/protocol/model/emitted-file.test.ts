/** The phrases that every emitted file shares, each as its docstring and a reader would write it. */
import { describe, expect, it } from "vitest";
import { decimal, hexOf, layoutMark, physicalRange, rawRange } from "../../../protocol/model/emitted-file.ts";
import { compile, fieldIndex, recordOf } from "../../../protocol/model/layout.ts";
import { bent, fieldOf, small } from "../../support/small-specification.ts";

/** The field `level` of the small specification, with another range and unit. */
function level(range: [number, number], unit = "pascal") {
  const sample = recordOf(compile(bent((s) => Object.assign(fieldOf(s, "level"), { range, unit }))), "sample");
  return sample.fields[fieldIndex(sample, "level")]!;
}

describe("phrases of the emitted files", () => {
  it("the mark names layout and fingerprint", () => {
    // The fingerprint is the one of the worked example in protocol/FINGERPRINT.md.
    expect(layoutMark(compile(small))).toBe("layout 1, fingerprint 734c0422");
  });

  it("hex has a prefix and as many digits as asked for at least", () => {
    expect([hexOf(0x2a, 4), hexOf(0xc5e680, 2), hexOf(0, 1)]).toEqual(["0x002a", "0xc5e680", "0x0"]);
  });

  it("a range stands as its two ends, or as one number when they are the same", () => {
    expect(rawRange(level([-100, 100]))).toBe("-100 to 100");
    expect(rawRange(level([7, 7]))).toBe("7");
  });

  it("a physical range has the field's scale and unit", () => {
    // value = (raw + 3) / 2
    expect(physicalRange(level([-100, 100]))).toBe("-48.5 to 51.5 Pa");
    expect(physicalRange(level([-100, 100], "one"))).toBe("-48.5 to 51.5");
    expect(physicalRange(level([7, 7]))).toBe("5 Pa");
  });

  it("a decimal has no exponent", () => {
    expect([decimal(36.52), decimal(-40), decimal(0)]).toEqual(["36.52", "-40", "0"]);
    expect([decimal(1e-9), decimal(-1.25e-9)]).toEqual(["0.000000001", "-0.00000000125"]);
  });
});
