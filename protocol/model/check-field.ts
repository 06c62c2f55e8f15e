/** Rules of a single field: its slice, its numbers, its names. */
import { checksums } from "./checksums.ts";
import { isReservedInC, isSnakeCase } from "./names.ts";
import { type Problem, problem } from "./problem.ts";
import { units } from "./units.ts";
import type {
  ArrayField,
  ChecksumField,
  EnumerationField,
  FieldSpec,
  FlagsField,
  NumberField,
  RecordSpec,
} from "./vocabulary.ts";

export function checkField(record: RecordSpec, field: FieldSpec): Problem[] {
  const path = `${record.id}.${field.id}`;
  if (field.type === "array") return checkArray(field, path);
  const [msb, lsb] = field.bits;
  if (!(Number.isInteger(msb) && Number.isInteger(lsb) && lsb >= 0 && msb >= lsb && msb < field.container)) {
    return [problem("slice-outside-container", path, `[${msb}, ${lsb}] of ${field.container} bits`)];
  }
  const width = msb - lsb + 1;
  if (width > 53) return [problem("slice-too-wide", path, `${width} bits`)];
  switch (field.type) {
    case "unsigned":
    case "signed":
      return [...checkNumber(field, width, path), ...checkColdStart(field, field, width, path)];
    case "flags":
      return checkFlags(field, width, path);
    case "enumeration":
      return checkEnumeration(field, width, path);
    case "constant":
      return fits(field.raw, width, false) ? [] : [problem("name-outside-bits", path, `${field.raw} in ${width} bits`)];
    case "checksum":
      return checkChecksum(record, field, width, path);
    case "reserved":
      return [];
  }
}

function fits(raw: number, width: number, signed: boolean): boolean {
  if (!Number.isSafeInteger(raw)) return false;
  return signed ? raw >= -(2 ** (width - 1)) && raw < 2 ** (width - 1) : raw >= 0 && raw < 2 ** width;
}

type Quantity = Omit<NumberField, "id" | "why" | "at" | "container" | "bits" | "order">;

function checkNumber(field: Quantity, width: number, path: string): Problem[] {
  const problems: Problem[] = [];
  const signed = field.type === "signed";
  const { num, den, add = 0 } = field.scale;
  const [min, max] = field.range;
  if (!(field.unit in units)) problems.push(problem("unit-unknown", path, field.unit));
  if (![num, den, add].every(Number.isSafeInteger) || num <= 0 || den <= 0) {
    problems.push(problem("scale-invalid", path, `(raw * ${num} + ${add}) / ${den}`));
  }
  if (min > max) problems.push(problem("range-reversed", path, `${min} to ${max}`));
  else if (!fits(min, width, signed) || !fits(max, width, signed)) {
    problems.push(problem("range-too-wide", path, `${min} to ${max} in ${width} bits ${field.type}`));
  }
  const sentinels = field.sentinels ?? [];
  for (const { raw, id } of sentinels) {
    if (!fits(raw, width, signed)) problems.push(problem("sentinel-outside-bits", `${path}.${id}`, `${raw}`));
    else if (raw >= min && raw <= max) problems.push(problem("sentinel-in-range", `${path}.${id}`, `${raw}`));
  }
  return [
    ...problems,
    ...members(
      sentinels.map(({ raw, id }) => ({ raw, id })),
      path,
    ),
  ];
}

function checkColdStart(
  field: { readonly coldStart?: number | "kept" | "computed" },
  quantity: Quantity,
  width: number,
  path: string,
): Problem[] {
  const { coldStart } = field;
  if (typeof coldStart !== "number") return [];
  const [min, max] = quantity.range;
  const known = (coldStart >= min && coldStart <= max) || quantity.sentinels?.some(({ raw }) => raw === coldStart);
  return known && fits(coldStart, width, quantity.type === "signed")
    ? []
    : [problem("cold-start-invalid", path, `${coldStart}`)];
}

function members(list: readonly { readonly raw: number; readonly id: string }[], path: string): Problem[] {
  const problems: Problem[] = [];
  const values = new Set<number>();
  const names = new Set<string>();
  for (const { raw, id } of list) {
    if (!isSnakeCase(id)) problems.push(problem("name-malformed", `${path}.${id}`, JSON.stringify(id)));
    else if (isReservedInC(id)) problems.push(problem("name-reserved", `${path}.${id}`, id));
    if (values.has(raw)) problems.push(problem("value-duplicate", `${path}.${id}`, `${raw}`));
    if (names.has(id)) problems.push(problem("name-duplicate", `${path}.${id}`, id));
    values.add(raw);
    names.add(id);
  }
  return problems;
}

function checkFlags(field: FlagsField, width: number, path: string): Problem[] {
  if (field.flags.length === 0) return [problem("enumeration-empty", path, "no flag")];
  if (width > 31) return [problem("flags-too-wide", path, `${width} bits`)];
  const problems = members(
    field.flags.map(({ bit, id }) => ({ raw: bit, id })),
    path,
  );
  for (const { bit, id, why } of field.flags) {
    if (!Number.isInteger(bit) || bit < 0 || bit >= width)
      problems.push(problem("flag-outside-bits", `${path}.${id}`, `${bit}`));
    if (why.trim() === "") problems.push(problem("reason-missing", `${path}.${id}`, "flag"));
  }
  const { coldStart } = field;
  if (typeof coldStart === "number" && !fits(coldStart, width, false)) {
    problems.push(problem("cold-start-invalid", path, `${coldStart}`));
  }
  return problems;
}

function checkEnumeration(field: EnumerationField, width: number, path: string): Problem[] {
  if (field.names.length === 0) return [problem("enumeration-empty", path, "no name")];
  const outside = field.names.filter(({ raw }) => !fits(raw, width, false));
  const { coldStart } = field;
  const start = typeof coldStart === "number" && !field.names.some(({ raw }) => raw === coldStart);
  return [
    ...members(field.names, path),
    ...(start ? [problem("cold-start-invalid", path, `${coldStart}`)] : []),
    ...outside.map(({ raw, id }) => problem("name-outside-bits", `${path}.${id}`, `${raw} in ${width} bits`)),
  ];
}

function checkChecksum(record: RecordSpec, field: ChecksumField, width: number, path: string): Problem[] {
  if (!(field.algorithm in checksums)) return [problem("checksum-unknown", path, field.algorithm)];
  const [first, last] = field.over;
  const own = field.at <= last && field.at + field.container / 8 > first;
  if (first < 0 || last >= record.bytes || first > last || own || width !== checksums[field.algorithm].width) {
    return [problem("checksum-span-invalid", path, `bytes ${first} to ${last} into ${width} bits at byte ${field.at}`)];
  }
  return [];
}

function checkArray(field: ArrayField, path: string): Problem[] {
  if (!Number.isInteger(field.count) || field.count < 1)
    return [problem("enumeration-empty", path, `${field.count} elements`)];
  return [
    ...checkNumber(field.element, field.container, path),
    ...checkColdStart(field, field.element, field.container, path),
  ];
}
