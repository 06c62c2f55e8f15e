import fc from "fast-check";
import { expect, it } from "vitest";
import { jsonPlaces } from "../../../host/cli/json-places.ts";

it("every member and element by its path", () => {
  const text = '{\n "a": [1,\n  {"b c": "x\\"{,}\\n"}\n ],\n\n "d": {}, "e": [], "f": null\n}\n';
  expect(Object.fromEntries(jsonPlaces(text))).toEqual({
    "": 1,
    a: 2,
    "a[0]": 2,
    "a[1]": 3,
    "a[1].b c": 3,
    d: 6,
    e: 6,
    f: 6,
  });
});

it("finds as many places as any JSON has values", () => {
  const count = (value: unknown): number =>
    typeof value === "object" && value !== null
      ? Object.values(value).reduce((sum: number, inner) => sum + count(inner), 1)
      : 1;
  const named = fc.dictionary(
    fc.string().map((name) => `n${name.replace(/[.[\]]/g, "")}`),
    fc.jsonValue({ maxDepth: 0 }),
  );
  fc.assert(
    fc.property(fc.array(named), (value) => {
      expect(jsonPlaces(JSON.stringify(value, null, 1)).size).toBe(count(value));
    }),
  );
});
