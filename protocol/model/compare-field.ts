/** What differs between two fields of the same id. */
import { type Change, change, whenDiffers } from "./change.ts";
import type { CompiledField } from "./layout.ts";
import type { Sentinel } from "./vocabulary.ts";

/** Place of a field, as text: two fields with the same text are the same bits. */
export function placeOf(field: CompiledField): string {
  const order = field.bytes === 1 ? "" : field.little ? " little" : " big";
  return `byte ${field.byte}${order} ${field.bytes * 8}, bit ${field.shift}`;
}

/** Whether a number field reads this raw value as a number. */
function isNumber(field: CompiledField, raw: number): boolean {
  return raw >= field.min! && raw <= field.max!;
}

/** `elements`: how many elements the array has, 1 for a field that is none. Compared are the first elements. */
export function compareField(
  path: string,
  was: CompiledField,
  now: CompiledField,
  elements: { readonly was: number; readonly now: number },
): Change[] {
  const text = whenDiffers("text-changed", path, prose(was, now), prose(now, was));
  // Reserved bits that move or shrink show as the fields that took or left them.
  if (was.type === "reserved" && now.type === "reserved") return text;
  return [
    ...whenDiffers("field-moved", path, placeOf(was), placeOf(now)),
    ...whenDiffers("field-resized", path, size(was, elements.was), size(now, elements.now)),
    ...compareType(path, was, now),
    ...whenDiffers("cold-start-changed", path, was.coldStart, now.coldStart),
    ...whenDiffers("writer-changed", path, was.writer, now.writer),
    ...whenDiffers("lock-changed", path, was.lock, now.lock),
    ...text,
  ];
}

function size(field: CompiledField, elements: number): string {
  return elements === 1 ? `${field.width} bits` : `${elements} times ${field.width} bits`;
}

/** Every sentence said of the field, and of those flags and names that the other has too. */
function prose(field: CompiledField, other: CompiledField): string {
  const members = (of: CompiledField): readonly { readonly id: string; readonly why?: string }[] =>
    of.flags ?? of.names ?? [];
  const shared = members(field).filter(({ id }) => members(other).some((member) => member.id === id));
  return [field.why, ...shared.flatMap(({ why }) => why ?? [])].join(" ");
}

function compareType(path: string, was: CompiledField, now: CompiledField): Change[] {
  const numbers = ["unsigned", "signed"];
  if (was.type !== now.type) {
    const sign = numbers.includes(was.type) && numbers.includes(now.type);
    if (!sign) return [change("type-changed", path, was.type, now.type)];
    return [change("sign-changed", path, was.type, now.type), ...compareNumber(path, was, now)];
  }
  switch (was.type) {
    case "unsigned":
    case "signed":
      return compareNumber(path, was, now);
    case "flags":
      return compareMembers("flag", path, flagMap(was), flagMap(now));
    case "enumeration":
      return compareMembers("name", path, nameMap(was), nameMap(now));
    case "constant": {
      // A layout number says which layout it is; the change of number is said once, of the whole.
      if (was.role === "layout" && now.role === "layout") return [];
      return whenDiffers("constant-changed", path, `${was.role} ${was.raw}`, `${now.role} ${now.raw}`);
    }
    case "checksum": {
      const text = ({ algorithm, over }: CompiledField) => `${algorithm} over bytes ${over![0]} to ${over![1]}`;
      return whenDiffers("checksum-changed", path, text(was), text(now));
    }
    case "reserved":
      return [];
  }
}

function compareNumber(path: string, was: CompiledField, now: CompiledField): Change[] {
  const scale = ({ num, den, add }: CompiledField) => `(raw * ${num} + ${add}) / ${den}`;
  const range = ({ min, max }: CompiledField) => `${min} to ${max}`;
  const narrowed = now.min! > was.min! || now.max! < was.max!;
  const widened = now.min! < was.min! || now.max! > was.max!;
  return [
    ...whenDiffers("scale-changed", path, scale(was), scale(now)),
    ...whenDiffers("unit-changed", path, was.unit, now.unit),
    ...whenDiffers("rounding-changed", path, was.rounding, now.rounding),
    ...whenDiffers("out-of-range-changed", path, was.outOfRange, now.outOfRange),
    ...(narrowed ? [change("range-narrowed", path, range(was), range(now))] : []),
    ...(widened ? [change("range-widened", path, range(was), range(now))] : []),
    ...compareSentinels(path, was, now),
  ];
}

function compareSentinels(path: string, was: CompiledField, now: CompiledField): Change[] {
  const text = ({ raw, id, means }: Sentinel) => `${raw} ${id} (${means})`;
  const before = new Map(was.sentinels!.map((sentinel) => [sentinel.raw, sentinel]));
  const after = new Map(now.sentinels!.map((sentinel) => [sentinel.raw, sentinel]));
  const changes: Change[] = [];
  for (const [raw, sentinel] of before) {
    const other = after.get(raw);
    const place = `${path}.${sentinel.id}`;
    if (!other) changes.push(change("sentinel-removed", place, text(sentinel), null));
    else changes.push(...whenDiffers("sentinel-changed", place, text(sentinel), text(other)));
  }
  for (const [raw, sentinel] of after) {
    if (before.has(raw)) continue;
    const code = isNumber(was, raw) ? "sentinel-shadows" : "sentinel-added";
    changes.push(change(code, `${path}.${sentinel.id}`, null, text(sentinel)));
  }
  return changes;
}

const flagMap = (field: CompiledField) => new Map(field.flags!.map(({ bit, id }) => [bit, id]));
const nameMap = (field: CompiledField) => new Map(field.names!.map(({ raw, id }) => [raw, id]));

function compareMembers(
  kind: "flag" | "name",
  path: string,
  was: ReadonlyMap<number, string>,
  now: ReadonlyMap<number, string>,
): Change[] {
  const word = kind === "flag" ? "bit " : "";
  const changes: Change[] = [];
  for (const [at, id] of was) {
    const other = now.get(at);
    const text = `${word}${at} ${id}`;
    if (other === undefined) changes.push(change(`${kind}-removed`, `${path}.${id}`, text, null));
    else changes.push(...whenDiffers(`${kind}-changed`, `${path}.${id}`, text, `${word}${at} ${other}`));
  }
  for (const [at, id] of now) {
    if (!was.has(at)) changes.push(change(`${kind}-added`, `${path}.${id}`, null, `${word}${at} ${id}`));
  }
  return changes;
}
