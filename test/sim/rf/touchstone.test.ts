import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { antennaOfTouchstone } from "../../../sim/rf/antenna.ts";
import { isTextFault } from "../../../sim/rf/text-fault.ts";
import { parseTouchstone } from "../../../sim/rf/touchstone.ts";

describe("what is read", () => {
  it("defaults: GHz, magnitude and angle, 50 ohm", () => {
    expect(parseTouchstone("#\n0.9 0.5 0\n")).toEqual({
      referenceOhm: 50,
      rows: [{ line: 2, frequencyHz: 9e8, reflection: { re: 0.5, im: 0 } }],
    });
  });

  it("entries in any order and case, comments anywhere, Windows line ends, a byte order mark, a second option line", () => {
    const text = "\uFEFF! a\r\n  # r 75 ri s mhz ! b\r\n865 .25 -1e-1 ! c\r\n\r\n# GHz S MA R 50\r\n+866. 0 0\r\n";
    expect(parseTouchstone(text)).toEqual({
      referenceOhm: 75,
      rows: [
        { line: 3, frequencyHz: 865e6, reflection: { re: 0.25, im: -0.1 } },
        { line: 6, frequencyHz: 866e6, reflection: { re: 0, im: 0 } },
      ],
    });
  });

  it("decibels and angles", () => {
    const file = parseTouchstone("# Hz S DB R 50\n1 -20 90\n");
    if (isTextFault(file)) throw new Error(file.says);
    expect(file.rows[0]!.reflection.re).toBeCloseTo(0, 12);
    expect(file.rows[0]!.reflection.im).toBeCloseTo(0.1, 12);
  });
});

describe("what is refused, with line and field", () => {
  const head = "! x\n# MHz S RI R 50\n";
  it.each([
    ["", 1, "option line", "ends without one"],
    ["\u0000\u0001\u00ff", 1, "option line", "must come before"],
    ["865 0 0\n# MHz S RI R 50\n", 1, "option line", "must come before"],
    ["[Version] 2.0\n", 1, "[Version] 2.0", "version 2"],
    ["# MHz S RI R\n", 1, "option line", "not nothing"],
    ["# MHz S RI R -50\n", 1, "option line", "above 0 ohm"],
    ["# MHz S RI R 0\n", 1, "option line", "above 0 ohm"],
    ["# MHz S RI R fifty\n", 1, "option line", "not fifty"],
    ["# MHz S RI 50\n", 1, "option line", '"50" is no'],
    ["# MHz S XY R 50\n", 1, "option line", '"XY" is no'],
    ["# MHz GHz S RI R 50\n", 1, "option line", "a second unit"],
    ["# MHz S RI MA R 50\n", 1, "option line", "a second format"],
    ["# MHz Z RI R 50\n", 1, "option line", "Z parameters"],
    [head, 3, "data", "ends without a line of data"],
    [`${head}865 0.1\n`, 3, "data", "not 2"],
    [`${head}865 1 2 3 4 5 6 7 8\n`, 3, "data", "two-port"],
    [`${head}865 0.1 0.2\n866 0.1 abc\n`, 4, "imaginary part", '"abc" is no number'],
    [`${head}865 0x10 0\n`, 3, "real part", "no number"],
    [`${head}865 NaN 0\n`, 3, "real part", "no number"],
    [`${head}865 1e999 0\n`, 3, "real part", "no number"],
    ["# MHz S MA R 50\n865 1 2..0\n", 2, "angle", "no number"],
    ["# MHz S MA R 50\n865 -0.5 0\n", 2, "magnitude", "below 0"],
    [`${head}-865 0 0\n`, 3, "frequency", "below 0"],
    [`${head}865 0 0\n865 0 0\n`, 4, "frequency", "does not rise above that of line 3"],
    [`${head}865 0 0\n! y\n864 0 0\n`, 5, "frequency", "does not rise above that of line 3"],
  ])("%j", (text, line, field, says) => {
    expect(parseTouchstone(text)).toEqual({ line, field, says: expect.stringContaining(says) });
  });

  it.each([
    ["1 0", "reflection", "open circuit"],
    ["1.02 0.2", "resistance", "above 1"],
  ])("an antenna that reflects %s", (pair, field, says) => {
    const file = parseTouchstone(`${head}864 0 0\n865 ${pair}\n`);
    if (isTextFault(file)) throw new Error(file.says);
    expect(antennaOfTouchstone(file)).toEqual({ line: 4, field, says: expect.stringContaining(says) });
  });

  it("never throws", () => {
    const words = fc.constantFrom("#", "!", "MHz", "S", "RI", "R", "50", "865", "0.1", "\n", " ", "[", "1e9", "-");
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.array(words).map((parts) => parts.join(" ")),
        ),
        (text) => {
          const file = parseTouchstone(text);
          if (!isTextFault(file)) antennaOfTouchstone(file);
        },
      ),
    );
  });
});
