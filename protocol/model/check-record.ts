/** Rules of a record: names, reasons, and every bit of the fixed part in exactly one field. */
import { checkField } from "./check-field.ts";
import { isReservedInC, isSnakeCase } from "./names.ts";
import { type Problem, problem } from "./problem.ts";
import type { FieldSpec, RecordSpec } from "./vocabulary.ts";

/** Rules of an id, wherever it stands. */
export function checkId(id: string, path: string): Problem[] {
  if (!isSnakeCase(id)) return [problem("name-malformed", path, JSON.stringify(id))];
  return isReservedInC(id) ? [problem("name-reserved", path, id)] : [];
}

/** `inBank`: the record is placed in tag memory, so every field must say its value after a cold start. */
export function checkRecord(record: RecordSpec, inBank: boolean): Problem[] {
  const problems: Problem[] = [...checkId(record.id, `records.${record.id}`)];
  if (inBank && record.tails?.length) problems.push(problem("tail-in-bank", record.id, record.tails[0]!.id));
  const count = record.fields.reduce((sum, field) => sum + (field.type === "array" ? field.count : 1), 0);
  if (count > 255) problems.push(problem("fields-too-many", record.id, `${count}`));
  if (record.why.trim() === "") problems.push(problem("reason-missing", record.id, "record"));
  const seen = new Set<string>();
  for (const field of record.fields) {
    const path = `${record.id}.${field.id}`;
    problems.push(...checkId(field.id, path));
    if (seen.has(field.id)) problems.push(problem("name-duplicate", path, field.id));
    seen.add(field.id);
    if (field.why.trim() === "") problems.push(problem("reason-missing", path, "field"));
    if (inBank && field.coldStart === undefined) problems.push(problem("cold-start-missing", path, "nothing"));
    problems.push(...checkField(record, field));
  }
  return [...problems, ...checkCover(record), ...checkTails(record)];
}

interface Claim {
  readonly path: string;
  readonly container: string;
  readonly bits: bigint;
}

/** One claim per container a field touches. */
function claims(record: RecordSpec, field: FieldSpec): { at: number; bytes: number; claim: Claim }[] {
  const path = `${record.id}.${field.id}`;
  const bytes = field.container / 8;
  const order = field.order ?? "big";
  if (field.type === "array") {
    return Array.from({ length: field.count }, (_, i) => {
      const at = field.at + i * bytes;
      return { at, bytes, claim: { path, container: `${at}+${bytes} ${order}`, bits: (1n << BigInt(8 * bytes)) - 1n } };
    });
  }
  const [msb, lsb] = field.bits;
  // A slice that is no slice is named by checkField; here it only must not stop the search.
  const whole = (count: number) => BigInt(Math.max(0, Math.floor(count)));
  const bits = ((1n << whole(msb - lsb + 1)) - 1n) << whole(lsb);
  return [{ at: field.at, bytes, claim: { path, container: `${field.at}+${bytes} ${order}`, bits } }];
}

function checkCover(record: RecordSpec): Problem[] {
  const problems: Problem[] = [];
  const byteOwner = new Map<number, Claim>();
  const covered = new Map<string, { at: number; bytes: number; bits: bigint }>();
  for (const field of record.fields) {
    for (const { at, bytes, claim } of claims(record, field)) {
      if (at < 0 || at + bytes > record.bytes) {
        problems.push(problem("container-outside-record", claim.path, `bytes ${at} to ${at + bytes - 1}`));
        continue;
      }
      let mixed = false;
      for (let byte = at; byte < at + bytes; byte++) {
        const other = byteOwner.get(byte);
        if (other && other.container !== claim.container) mixed = true;
        if (!other) byteOwner.set(byte, claim);
      }
      if (mixed) {
        problems.push(problem("container-mixed", claim.path, `container ${claim.container}`));
        continue;
      }
      const container = covered.get(claim.container) ?? { at, bytes, bits: 0n };
      if (container.bits & claim.bits)
        problems.push(problem("field-overlap", claim.path, `container ${claim.container}`));
      covered.set(claim.container, { at, bytes, bits: container.bits | claim.bits });
    }
  }
  return [...problems, ...gaps(record, covered.values())];
}

function gaps(record: RecordSpec, covered: Iterable<{ at: number; bytes: number; bits: bigint }>): Problem[] {
  const problems: Problem[] = [];
  const touched = new Set<number>();
  for (const { at, bytes, bits } of covered) {
    for (let byte = at; byte < at + bytes; byte++) touched.add(byte);
    for (let bit = 0; bit < 8 * bytes; bit++) {
      if (!((bits >> BigInt(bit)) & 1n)) {
        problems.push(problem("field-gap", record.id, `bit ${bit} of the container at byte ${at}`));
        break;
      }
    }
  }
  for (let byte = 0; byte < record.bytes; byte++) {
    if (!touched.has(byte)) return [...problems, problem("field-gap", record.id, `byte ${byte}`)];
  }
  return problems;
}

function checkTails(record: RecordSpec): Problem[] {
  return (record.tails ?? []).flatMap((tail) => {
    const path = `${record.id}.${tail.id}`;
    const count = record.fields.find(({ id }) => id === tail.count);
    const named = checkId(tail.id, path);
    if (tail.why.trim() === "") named.push(problem("reason-missing", path, "tail"));
    return count?.type === "unsigned" ? named : [...named, problem("tail-count-invalid", path, tail.count)];
  });
}
