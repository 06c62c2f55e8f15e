/** The Touchstone reader against scikit-rf on scikit-rf's own sample files, and on files of every format and unit. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { antennaOfTouchstone } from "../../sim/rf/antenna.ts";
import { isTextFault } from "../../sim/rf/text-fault.ts";
import { parseTouchstone, type Touchstone } from "../../sim/rf/touchstone.ts";
import { askScikitRf, needsScikitRf } from "../support/scikit-rf.ts";

function parsed(text: string): Touchstone {
  const file = parseTouchstone(text);
  if (isTextFault(file)) throw new Error(`line ${file.line}: ${file.field}: ${file.says}`);
  return file;
}

/** The same curve, 25 ohm and up, in every format, unit and against several resistances. */
const texts = ["RI", "MA", "DB"].flatMap((format) =>
  [
    ["Hz", 1],
    ["kHz", 1e3],
    ["MHz", 1e6],
    ["GHz", 1e9],
  ].map(([unit, hertz], at) => {
    const lines = Array.from({ length: 9 }, (_, i) => {
      const angle = 20 * i - 75.5;
      const size = 0.31 + 0.07 * i;
      const radians = (angle * Math.PI) / 180;
      const pair =
        format === "RI"
          ? [size * Math.cos(radians), size * Math.sin(radians)]
          : [format === "MA" ? size : 20 * Math.log10(size), angle];
      return `${(860e6 + 1.5e6 * i) / Number(hertz)} ${pair[0]!.toExponential(15)}  ${pair[1]!.toExponential(15)} ! ${i}`;
    });
    return `! made for this test\n# ${unit} S ${format} R ${[50, 75, 12.5, 1][at]}\n${lines.join("\n")}\n`;
  }),
);

needsScikitRf(() => {
  const { samples, texts: curves } = askScikitRf({ samples: true, texts });

  it("there are samples", () => expect(samples.length).toBeGreaterThan(15));

  it.each(samples)("$name reads the same", ({ path, frequencyHz, re, im }) => {
    const { rows } = parsed(readFileSync(path, "latin1"));
    expect(rows.length).toBe(frequencyHz.length);
    rows.forEach((row, i) => {
      expect(Math.abs(row.frequencyHz - frequencyHz[i]!)).toBeLessThanOrEqual(1e-12 * frequencyHz[i]!);
      expect(Math.abs(row.reflection.re - re[i]!)).toBeLessThan(1e-13);
      expect(Math.abs(row.reflection.im - im[i]!)).toBeLessThan(1e-13);
    });
  });

  describe("impedance", () => {
    it.each(texts.map((text, i) => ({ text, i, head: text.split("\n")[1] })))("$head", ({ text, i }) => {
      const antenna = antennaOfTouchstone(parsed(text));
      if (isTextFault(antenna)) throw new Error(antenna.says);
      const curve = curves[i]!;
      curve.frequencyHz.forEach((hz, at) => {
        const { re, im } = antenna.impedance(hz);
        const size = Math.hypot(re, im);
        expect(Math.abs(re - curve.re[at]!) / size).toBeLessThan(1e-9);
        expect(Math.abs(im - curve.im[at]!) / size).toBeLessThan(1e-9);
      });
    });
  });
});
