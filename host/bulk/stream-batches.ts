/** A capture from a stream, as batches of columns. */
import type { Layout } from "../../protocol/index.ts";
import { LineRules } from "../capture/line-rules.ts";
import type { Account } from "./account.ts";
import type { ColumnBatch } from "./batch.ts";
import { BulkReader } from "./bulk-reader.ts";
import type { Engine } from "./engine.ts";

/**
 * Batches of a capture, JSON Lines or CSV, counted in `account`. `name` is what messages call the file. An error of the stream
 * comes out of the iteration.
 */
export async function* streamBatches(
  source: AsyncIterable<Uint8Array | string>,
  name: string,
  layout: Layout,
  engine: Engine,
  account: Account,
): AsyncGenerator<ColumnBatch> {
  const rules = new LineRules(name, layout);
  const reader = new BulkReader(engine, rules, layout);
  for await (const piece of source) {
    const bytes = typeof piece === "string" ? Buffer.from(piece) : piece;
    for (let from = 0; from < bytes.length; ) {
      const space = reader.space();
      const part = bytes.subarray(from, from + space.length);
      space.set(part);
      reader.hold(part.length);
      from += part.length;
      if (part.length < space.length) continue;
      for (const batch of reader.batches(false)) yield account.add(batch);
    }
  }
  for (const batch of reader.batches(true)) yield account.add(batch);
  const end = reader.end();
  if (end) yield account.add(end);
}
