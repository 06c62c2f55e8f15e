/** From a physical value to the raw integer: each number of the memory in its range, at a tie, and beyond either end. */
import { layout } from "../../../protocol/index.ts";
import type { CompiledField } from "../../../protocol/model/layout.ts";
import type { Group } from "./group.ts";
import { type AnyVector, vectorsOfKind } from "./vector-set.ts";

const memory = new Set(layout.banks.flatMap(({ regions }) => regions.map(({ record }) => record)));
const fields = layout.records
  .filter(({ id }) => memory.has(id))
  .flatMap((record) => record.fields)
  .filter(({ type, index = 0 }) => (type === "unsigned" || type === "signed") && index === 0);
const byPath = new Map(fields.map((field) => [field.path, field]));

const inText = (path: string) => `${path}: in its range`;
const endText = (path: string, end: string) => `${path}: beyond the ${end} end`;
const betweenText = (path: string) => `${path}: half a step`;

/** A half of such a step is a decimal of more digits than a double names for sure. */
const isFine = ({ den }: CompiledField) => Number.isInteger(Math.log2(den!)) && den! > 2 ** 14;

const wantedOf = (field: CompiledField) => [
  inText(field.path),
  endText(field.path, "lower"),
  endText(field.path, "upper"),
  ...(isFine(field) ? [] : [betweenText(field.path)]),
];

function textsOf({ record, field, value }: AnyVector): string[] {
  // Elements of an array have one scale, so any of them shows it.
  const path = `${record}.${field}`.replace(/\[\d+\]$/, "[0]");
  const { min, max, num, den, add } = byPath.get(path)!;
  const steps = (Number(value) * den! - add!) / num!;
  if (steps < min! - 0.5) return [endText(path, "lower")];
  if (steps >= max! + 0.5) return [endText(path, "upper")];
  // The value is a decimal, so half a step need not be one in floating point.
  const half = Math.abs(Math.abs(steps % 1) - 0.5) < 1e-6;
  return half ? [inText(path), betweenText(path)] : [inText(path)];
}

export const quantityGroup: Group = {
  name: "quantities: each number from its value",
  wanted: fields.flatMap(wantedOf),
  shown: (files) => new Set(vectorsOfKind(files, "quantity").flatMap(textsOf)),
};
