/** Every record cut in every place, with bytes too many, and with counts that do not fit what follows. */
import { layout } from "../../../protocol/index.ts";
import { recordOf } from "../../../protocol/model/layout.ts";
import type { Group } from "./group.ts";
import { memoryRecords, payloads, type RecordSeen, rawIn } from "./raw-fields.ts";
import { vectorsOfKind } from "./vector-set.ts";

const ENVELOPE = recordOf(layout, "envelope");
const records = layout.records.filter(({ id }) => id !== "envelope");
const shortText = (id: string, length: number) => `${id}: ${length} bytes [record-too-short]`;
const longText = (id: string) => `${id}: more bytes than it has [trailing-bytes]`;
const countText = (path: string, what: string) => `${path}: ${what}`;
const MISMATCH = ["fewer elements", "more elements"];

function show(shown: Set<string>, { record, bytes, vector }: RecordSeen): void {
  const { reason, also } = vector.expected;
  if (also) return;
  if (reason === "record-too-short") shown.add(shortText(record.id, bytes.length));
  if (reason === "trailing-bytes") shown.add(longText(record.id));
  const counts = record.tails.map((tail) => rawIn(bytes, record.fields[tail.count]!) ?? 0);
  record.tails.forEach((tail, i) => {
    const { max } = record.fields[tail.count]!;
    if (reason === undefined) {
      const what = new Map([
        [0, "none"],
        [1, "one"],
        [max!, "the most"],
      ]);
      shown.add(countText(tail.path, what.get(counts[i]!) ?? "some"));
    }
  });
  if (reason === "count-mismatch") {
    const asked = record.tails.reduce((sum, tail, i) => sum + counts[i]! * tail.bytes, record.bytes);
    shown.add(countText(record.id, `${MISMATCH[bytes.length < asked ? 0 : 1]} [count-mismatch]`));
  }
}

export const lengthGroup: Group = {
  name: "lengths: cut in every place, too long, counts",
  wanted: [
    ...Array.from({ length: ENVELOPE.bytes }, (_, length) => shortText(ENVELOPE.id, length)),
    ...records.flatMap(({ id, bytes }) => Array.from({ length: bytes }, (_, length) => shortText(id, length))),
    ...records.filter(({ tails }) => tails.length === 0).map(({ id }) => longText(id)),
    ...records.flatMap(({ tails }) =>
      tails.flatMap(({ path }) => ["none", "one", "some", "the most"].map((what) => countText(path, what))),
    ),
    ...records
      .filter(({ tails }) => tails.length > 0)
      .flatMap(({ id }) => MISMATCH.map((what) => countText(id, `${what} [count-mismatch]`))),
  ],
  shown(files) {
    const shown = new Set<string>();
    for (const seen of [...memoryRecords(files), ...payloads(files)]) show(shown, seen);
    for (const { body, expected } of vectorsOfKind(files, "link-messages")) {
      if (expected.path === ENVELOPE.id) shown.add(shortText(ENVELOPE.id, (body as string).length / 2));
    }
    return shown;
  },
};
