/** What differs between two records of the same id. */
import { type Change, change, whenDiffers } from "./change.ts";
import { compareField, placeOf } from "./compare-field.ts";
import type { CompiledField, CompiledRecord } from "./layout.ts";

export function compareRecord(was: CompiledRecord, now: CompiledRecord): Change[] {
  return [
    ...whenDiffers("record-resized", was.id, `${was.bytes} bytes`, `${now.bytes} bytes`),
    ...compareFields(was, now),
    ...whenDiffers("tail-changed", was.id, tails(was), tails(now)),
    ...whenDiffers("text-changed", was.id, prose(was, now), prose(now, was)),
  ];
}

/** Fields by id, an array under its own id as its first element. */
function byId(record: CompiledRecord): Map<string, CompiledField> {
  const fields = record.fields.filter(({ index }) => index === undefined || index === 0);
  return new Map(fields.map((field) => [field.array ?? field.id, field]));
}

function elements(record: CompiledRecord, field: CompiledField): number {
  return field.array === undefined ? 1 : record.fields.filter(({ array }) => array === field.array).length;
}

function compareFields(was: CompiledRecord, now: CompiledRecord): Change[] {
  const before = byId(was);
  const after = byId(now);
  const added = new Map([...after].filter(([id]) => !before.has(id)));
  const changes: Change[] = [];
  for (const [id, field] of before) {
    const path = `${was.id}.${id}`;
    const other = after.get(id);
    if (other) {
      changes.push(...compareField(path, field, other, { was: elements(was, field), now: elements(now, other) }));
      continue;
    }
    const renamed = [...added].find(([, candidate]) => sameBits(field, candidate));
    if (renamed) {
      added.delete(renamed[0]);
      changes.push(change("field-renamed", path, id, renamed[0]));
    } else if (field.type !== "reserved") changes.push(change("field-removed", path, summary(field), null));
  }
  for (const [id, field] of added) {
    if (field.type === "reserved") continue;
    changes.push(change(additionCode(was, field), `${now.id}.${id}`, null, summary(field)));
  }
  const common = (from: Map<string, CompiledField>, other: Map<string, CompiledField>) =>
    [...from.keys()].filter((id) => other.has(id)).join(", ");
  return [...changes, ...whenDiffers("fields-reordered", was.id, common(before, after), common(after, before))];
}

function summary(field: CompiledField): string {
  return `${field.type} at ${placeOf(field)}, ${field.width} bits`;
}

function sameBits(a: CompiledField, b: CompiledField): boolean {
  return placeOf(a) === placeOf(b) && a.width === b.width && a.type === b.type;
}

/** An added field is harmless only where the old record held zeros by rule and zero says that nothing was written. */
function additionCode(was: CompiledRecord, field: CompiledField): Change["code"] {
  const spare = was.fields.some(
    (old) =>
      old.type === "reserved" &&
      old.byte === field.byte &&
      old.bytes === field.bytes &&
      old.little === field.little &&
      old.shift <= field.shift &&
      old.shift + old.width >= field.shift + field.width,
  );
  if (!spare) return "field-added";
  const absent = field.sentinels?.some(({ raw, means }) => raw === 0 && means === "absent");
  return field.type === "flags" || absent ? "reserved-used" : "reserved-misread";
}

function tails(record: CompiledRecord): string {
  const text = record.tails.map(({ id, bytes, little, count }) => {
    return `${id} of ${bytes} bytes${little ? " little" : ""} counted by ${record.fields[count]!.id}`;
  });
  return text.length === 0 ? "no tail" : text.join(", ");
}

function prose(record: CompiledRecord, other: CompiledRecord): string {
  const shared = record.tails.filter(({ id }) => other.tails.some((tail) => tail.id === id));
  return [record.title, record.why, ...shared.map(({ why }) => why)].join(" ");
}
