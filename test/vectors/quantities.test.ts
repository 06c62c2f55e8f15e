import { describe, expect, it } from "vitest";
import { layout } from "../../protocol/index.ts";
import { fieldIndex, recordOf } from "../../protocol/model/layout.ts";
import { toRaw } from "../../protocol/model/scale.ts";
import { vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly record: string;
  readonly field: string;
  readonly value: string;
  readonly repaired?: string;
}

const { good, bad } = vectorsOf<Given, { raw: number }>("quantities.json");

function fieldOf({ record, field }: Given) {
  const compiled = recordOf(layout, record);
  return compiled.fields[fieldIndex(compiled, field)]!;
}

describe("quantities.json", () => {
  it.each(good)("$id", ({ given, expected }) => {
    expect(toRaw(fieldOf(given), Number(given.value))).toBe(expected.raw);
  });

  it.each(bad)("$id is rejected", ({ given, expected }) => {
    const field = fieldOf(given);
    expect(toRaw(field, Number(given.value))).toBeNull();
    expect({ byte: field.byte, bit: field.shift, path: field.path }).toEqual({
      byte: expected.byte,
      bit: expected.bit,
      path: expected.path,
    });
    expect(toRaw(field, Number(given.repaired))).not.toBeNull();
  });
});
