/** Contrast by WCAG 2.2, success criteria 1.4.3 (text, 4.5 : 1) and 1.4.11 (shapes, 3 : 1); formula and limits from memory. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const css = readFileSync("host/page/styles/palette.css", "utf8");

/** The blocks of the file in their order, each as names and colours. */
const blocks = [...css.matchAll(/\{([^{}]*)\}/g)].map(
  ([, body]) => new Map([...body!.matchAll(/(--[\w-]+):\s*(#[0-9a-f]{6})/g)].map(([, name, value]) => [name!, value!])),
);

function luminance(colour: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(colour.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}

function contrast(one: string, other: string): number {
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light! + 0.05) / (dark! + 0.05);
}

describe("contrast", () => {
  // Of the definition: black on white is 21 : 1, and #767676 on white the lightest grey that passes 4.5 : 1.
  it("is computed as it is defined", () => {
    expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 9);
    expect(contrast("#767676", "#ffffff")).toBeGreaterThanOrEqual(4.5);
    expect(contrast("#777777", "#ffffff")).toBeLessThan(4.5);
  });

  it("has four palettes with the same names: day, night chosen, night of the device, paper", () => {
    expect(blocks).toHaveLength(4);
    const names = blocks.map((block) => [...block.keys()].sort().join());
    expect(new Set(names).size).toBe(1);
    expect(blocks[1]).toEqual(blocks[2]);
  });

  const grounds = ["--ground", "--sheet"];
  const words = ["--ink", "--soft", "--press", "--inside", "--doubt", "--grave"];
  const shapes = ["--thread", ...Array.from({ length: 8 }, (_, i) => `--site-${i}`)];

  it.each([0, 1, 2, 3])("is enough in palette %s", (index) => {
    const palette = blocks[index]!;
    const of = (name: string) => palette.get(name)!;
    const poor = grounds.flatMap((ground) => [
      ...words.filter((name) => contrast(of(name), of(ground)) < 4.5).map((name) => `${name} on ${ground}`),
      ...shapes.filter((name) => contrast(of(name), of(ground)) < 3).map((name) => `${name} on ${ground}`),
    ]);
    if (contrast(of("--on-press"), of("--press")) < 4.5) poor.push("--on-press on --press");
    expect(poor).toEqual([]);
  });

  it("has every colour in the palette: no style sheet has one of its own", () => {
    const sheets = ["page.css", "now.css", "time.css", "bytes.css", "power.css", "calibrate.css"].map((name) =>
      readFileSync(`host/page/styles/${name}`, "utf8"),
    );
    expect(sheets.join("\n").match(/#[0-9a-f]{3,8}\b/gi)).toBeNull();
  });
});
