/** JSON with a line for each member where it is long, laid out by hand. */
import { describe, expect, it } from "vitest";
import { layoutText } from "../../../protocol/model/layout-text.ts";

/** A text whose JSON, quotes included, has `length` characters. */
const quoted = (length: number) => "x".repeat(length - 2);

describe("layoutText", () => {
  it("keeps 110 characters on one line and breaks the 111th", () => {
    const fits = [quoted(108)];
    expect(layoutText(fits)).toBe(`["${"x".repeat(106)}"]`);
    const long = [quoted(109)];
    expect(layoutText(long)).toBe(`[\n  "${"x".repeat(107)}"\n]`);
  });

  it("breaks objects and arrays by two spaces a level", () => {
    const long = quoted(120);
    const text = layoutText({ name: "plyframe", list: [{ a: 1, b: long }, 2], none: null });
    expect(text.split("\n")).toEqual([
      "{",
      '  "name": "plyframe",',
      '  "list": [',
      "    {",
      '      "a": 1,',
      `      "b": "${long}"`,
      "    },",
      "    2",
      "  ],",
      '  "none": null',
      "}",
    ]);
  });

  it("never breaks what lies four levels deep, nor a text or null", () => {
    const long = quoted(120);
    expect(layoutText([[[[[long, 1]]]]])).toBe(
      `[\n  [\n    [\n      [\n        [${JSON.stringify(long)},1]\n      ]\n    ]\n  ]\n]`,
    );
    expect(layoutText(long)).toBe(`"${long}"`);
    expect(layoutText(null)).toBe("null");
  });

  it("is the value again when it is read as JSON", () => {
    const value = { a: [quoted(100), { b: quoted(100), c: [] }], d: {} };
    expect(JSON.parse(layoutText(value))).toEqual(value);
  });
});
