/** Compares two compiled layouts and says of each difference whether it breaks readers. The rules: model/change.ts. */
import { type Change, change, whenDiffers } from "./change.ts";
import { compareRecord } from "./compare-record.ts";
import type { Layout } from "./layout.ts";
import type { BankSpec, MessageSpec, Region } from "./vocabulary.ts";

/** Every difference, in the order records, banks, messages; empty when the two mean and say the same. */
export function compareLayouts(was: Layout, now: Layout): Change[] {
  return [
    ...whenDiffers("layout-renumbered", "layout", was.layout, now.layout),
    ...pairs("record", "records", was.records, now.records, ({ title }) => title, compareRecord),
    ...pairs("bank", "banks", was.banks, now.banks, ({ words }) => `${words} words`, compareBank),
    ...pairs("message", "messages", was.messages, now.messages, messageText, compareMessage),
  ];
}

function pairs<T extends { readonly id: string }>(
  kind: "record" | "bank" | "region" | "message",
  path: string,
  was: readonly T[],
  now: readonly T[],
  text: (item: T) => string,
  compare: (was: T, now: T) => Change[],
): Change[] {
  const after = new Map(now.map((item) => [item.id, item]));
  const before = new Set(was.map(({ id }) => id));
  return [
    ...was.flatMap((item) => {
      const other = after.get(item.id);
      return other ? compare(item, other) : [change(`${kind}-removed`, `${path}.${item.id}`, text(item), null)];
    }),
    ...now
      .filter(({ id }) => !before.has(id))
      .map((item) => change(`${kind}-added`, `${path}.${item.id}`, null, text(item))),
  ];
}

function compareBank(was: BankSpec, now: BankSpec): Change[] {
  const resized = now.words < was.words ? "bank-shrunk" : "bank-grown";
  return [
    ...whenDiffers(resized, was.id, `${was.words} words`, `${now.words} words`),
    ...whenDiffers("text-changed", was.id, was.title, now.title),
    ...pairs("region", was.id, present(was), present(now), regionText, (a, b) => compareRegion(was.id, a, b)),
  ];
}

/** A stretch of words that is not implemented is no region to anybody who reads. */
function present(bank: BankSpec): Region[] {
  return bank.regions.filter(({ record }) => record !== null);
}

function regionText({ word, words, record }: Region): string {
  return `${record} at word ${word}, ${words} words`;
}

function compareRegion(bank: string, was: Region, now: Region): Change[] {
  const path = `${bank}.${was.id}`;
  return [
    ...whenDiffers("region-moved", path, `word ${was.word}`, `word ${now.word}`),
    ...whenDiffers("region-resized", path, `${was.words} words`, `${now.words} words`),
    ...whenDiffers("region-record-changed", path, was.record, now.record),
    ...whenDiffers("writer-changed", path, was.writer, now.writer),
    ...whenDiffers("lock-changed", path, was.lock, now.lock),
    ...whenDiffers("text-changed", path, was.why, now.why),
  ];
}

function messageText({ code, direction, record }: MessageSpec): string {
  return `${code} ${direction} with ${record}`;
}

function compareMessage(was: MessageSpec, now: MessageSpec): Change[] {
  const path = `messages.${was.id}`;
  return [
    ...whenDiffers("message-code-changed", path, `${was.code} ${was.direction}`, `${now.code} ${now.direction}`),
    ...whenDiffers("message-answer-changed", path, was.answer, now.answer),
    ...whenDiffers("message-record-changed", path, was.record, now.record),
  ];
}
