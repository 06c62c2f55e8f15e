/** Holds a specification to the rules and returns every problem found, in the order of the specification. */
import { checkBank } from "./check-bank.ts";
import { checkId, checkRecord } from "./check-record.ts";
import { type Problem, problem } from "./problem.ts";
import type { MessageSpec, RecordSpec, Specification } from "./vocabulary.ts";

export function check(specification: Specification): Problem[] {
  const problems: Problem[] = [];
  const { layout, records, banks, messages } = specification;
  if (!Number.isInteger(layout) || layout < 1 || layout > 14) {
    problems.push(problem("layout-number-invalid", "layout", `${layout}, not 1 to 14`));
  }
  const inBank = new Set(banks.flatMap((bank) => bank.regions.map((region) => region.record)));
  problems.push(...duplicates(records, "records"), ...duplicates(banks, "banks"));
  for (const record of records) problems.push(...checkRecord(record, inBank.has(record.id)));
  problems.push(...sharedKinds(records.filter(({ id }) => inBank.has(id))));
  for (const bank of banks) problems.push(...checkBank(bank, records));
  problems.push(...checkMessages(messages, records));
  return problems;
}

function duplicates(items: readonly { readonly id: string }[], path: string): Problem[] {
  const seen = new Set<string>();
  return items.flatMap(({ id }) => {
    if (seen.has(id)) return [problem("name-duplicate", `${path}.${id}`, id)];
    seen.add(id);
    return [];
  });
}

function sharedKinds(records: readonly RecordSpec[]): Problem[] {
  const owners = new Map<number, string>();
  return records.flatMap(({ id, fields }) =>
    fields.flatMap((field) => {
      if (field.type !== "constant" || field.role !== "kind") return [];
      const owner = owners.get(field.raw);
      owners.set(field.raw, owner ?? id);
      return owner === undefined
        ? []
        : [problem("kind-duplicate", `${id}.${field.id}`, `${field.raw}, of ${owner} too`)];
    }),
  );
}

function checkMessages(messages: readonly MessageSpec[], records: readonly RecordSpec[]): Problem[] {
  const problems: Problem[] = [];
  const used = new Set<string>();
  for (const message of messages) {
    const path = `messages.${message.id}`;
    problems.push(...checkId(message.id, path));
    const key = `${message.direction} ${message.code}`;
    if (!Number.isInteger(message.code) || message.code < 0 || message.code > 255 || used.has(key)) {
      problems.push(problem("message-code-invalid", path, `${message.code} (${message.direction})`));
    }
    used.add(key);
    if (!records.some(({ id }) => id === message.record)) {
      problems.push(problem("record-unknown", path, message.record));
    }
    const answered = messages.some(({ id, direction }) => id === message.answer && direction === "to-host");
    if (message.answer !== undefined && !answered) {
      problems.push(problem("message-answer-unknown", path, message.answer));
    }
  }
  return problems;
}
