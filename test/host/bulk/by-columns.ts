/** The columns of a capture in the form of the single lines, so that the two can be compared. */

import { Account } from "../../../host/bulk/account.ts";
import type { ColumnBatch } from "../../../host/bulk/batch.ts";
import type { Engine } from "../../../host/bulk/engine.ts";
import { streamBatches } from "../../../host/bulk/stream-batches.ts";
import type { AmbientReport } from "../../../host/reader/report.ts";
import { formatHex, layout } from "../../../protocol/index.ts";
import { comparable, type Row, type Story } from "./by-single-lines.ts";

const link = layout.records.find(({ id }) => id === "tag_report")!;
const namesOf = (id: string) => new Map(link.fields.find((field) => field.id === id)!.names!.map((n) => [n.raw, n.id]));
const results = namesOf("result");
const banks = namesOf("bank");
const fieldIds = ["status", "sequence", "pressure", "temperature", "supply", "uptime"];

export interface ColumnStory extends Story {
  readonly fellBack: number;
}

/** Columns of a text; `cut` gives the sizes of the pieces in which it arrives. */
export function byColumns(text: Uint8Array, engine: Engine, cut: () => number): Promise<ColumnStory> {
  const account = new Account(layout);
  return storyOf(streamBatches(inPieces(text, cut), "capture", layout, engine, account), account);
}

/** Copies all that the batches of a capture say. */
export async function storyOf(batches: AsyncIterable<ColumnBatch>, account: Account): Promise<ColumnStory> {
  const rows: Row[] = [];
  const ambient: { line: number; report: AmbientReport }[] = [];
  const items: unknown[] = [];
  let [line, byte] = [1, 0];
  for await (const batch of batches) {
    if (batch.firstLine !== line || batch.firstByte !== byte) throw new Error("batches do not follow one another");
    line += batch.lines;
    byte += batch.bytes;
    collect(batch, rows, ambient, items);
  }
  const unread: Record<string, number> = {};
  for (const [reason, { count }] of account.unread) unread[reason] = count;
  const readings = {
    sighted: account.sighted,
    other: account.other,
    readings: account.frames,
    waveforms: account.bursts,
    unread,
  };
  const { lines: counts, rejected, fellBack } = account;
  return { rows, ambient, items, counts, readings, rejected, fellBack };
}

function collect(
  batch: ColumnBatch,
  rows: Row[],
  ambient: { line: number; report: AmbientReport }[],
  items: unknown[],
) {
  const { reads } = batch;
  for (let i = 0; i < batch.rows; i++) {
    const at = reads.dataAt[i]!;
    const words = Array.from(
      { length: reads.words[i]! },
      (_, k) => batch.data[at + 2 * k]! * 256 + batch.data[at + 2 * k + 1]!,
    );
    const raw = batch.lineBytes(i);
    rows.push({
      line: batch.firstLine + reads.line[i]!,
      raw: formatHex(raw),
      report: {
        kind: "read",
        kitTimeUs: reads.kitTimeUs[i]! + 0,
        epc: batch.tags[reads.tag[i]!]!,
        pc: reads.pc[i]!,
        xpc: reads.xpc[i]!,
        rssiDbm: Number.isNaN(reads.rssiDbm[i]) ? null : reads.rssiDbm[i]!,
        frequencyKhz: reads.frequencyKhz[i]!,
        result: results.get(reads.result[i]!)!,
        bank: banks.get(reads.bank[i]!)! as "user",
        word: reads.word[i]!,
        words,
      },
      verdicts: Object.fromEntries(Object.entries(batch.verdicts).map(([id, column]) => [id, column[i]!])),
      slot: reads.slot[i]!,
      fields: reads.slot[i] === 0 ? null : fieldIds.map((id) => batch.fields[id]![i]!),
      frame: reads.frame[i]!,
      burst: reads.burst[i]!,
      isRejected: reads.rejected[i] !== 0,
    });
  }
  for (let i = 0; i < batch.ambientRows; i++) {
    const { line, kitTimeUs, pressureRaw, temperatureC } = batch.ambient;
    ambient.push({
      line: batch.firstLine + line[i]!,
      report: {
        kind: "ambient",
        kitTimeUs: kitTimeUs[i]! + 0,
        pressureRaw: pressureRaw[i]!,
        temperatureC: Number.isNaN(temperatureC[i]) ? null : temperatureC[i]!,
      },
    });
  }
  items.push(...batch.items.map(comparable));
}

async function* inPieces(text: Uint8Array, cut: () => number): AsyncGenerator<Uint8Array> {
  for (let from = 0; from < text.length; ) {
    const to = Math.min(text.length, from + cut());
    yield text.subarray(from, to);
    from = to;
  }
}
