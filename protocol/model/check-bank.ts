/** Rules of a memory bank: every word belongs to exactly one region. */
import { checkId } from "./check-record.ts";
import { type Problem, problem } from "./problem.ts";
import type { BankSpec, RecordSpec } from "./vocabulary.ts";

export function checkBank(bank: BankSpec, records: readonly RecordSpec[]): Problem[] {
  const problems: Problem[] = [...checkId(bank.id, `banks.${bank.id}`)];
  const owner: (string | undefined)[] = new Array(bank.words).fill(undefined);
  const seen = new Set<string>();
  for (const region of bank.regions) {
    const path = `${bank.id}.${region.id}`;
    problems.push(...checkId(region.id, path));
    if (seen.has(region.id)) problems.push(problem("name-duplicate", path, region.id));
    seen.add(region.id);
    if (region.why.trim() === "") problems.push(problem("reason-missing", path, "region"));
    if (region.record !== null) {
      const record = records.find(({ id }) => id === region.record);
      if (!record) problems.push(problem("record-unknown", path, region.record));
      else if (record.bytes !== region.words * 2) {
        problems.push(problem("region-size-mismatch", path, `${region.words} words for ${record.bytes} bytes`));
      }
    }
    if (region.word < 0 || region.word + region.words > bank.words) {
      problems.push(problem("region-outside-bank", path, `words ${region.word} to ${region.word + region.words - 1}`));
      continue;
    }
    let shared: number | undefined;
    for (let word = region.word; word < region.word + region.words; word++) {
      if (owner[word] === undefined) owner[word] = region.id;
      else shared ??= word;
    }
    if (shared !== undefined) {
      problems.push(problem("region-overlap", path, `word ${shared} is in ${owner[shared]} too`));
    }
  }
  const gap = owner.indexOf(undefined);
  if (gap >= 0) problems.push(problem("region-gap", bank.id, `word ${gap}`));
  return problems;
}
