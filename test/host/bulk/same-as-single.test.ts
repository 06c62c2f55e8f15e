/** Columns say what single lines say: the same reads, verdicts, frames, faults, places and sentences, by both engines. */
import { readFileSync } from "node:fs";
import { isDeepStrictEqual } from "node:util";
import { describe, expect, it } from "vitest";
import type { Engine } from "../../../host/bulk/engine.ts";
import { PlainEngine } from "../../../host/bulk/plain-engine.ts";
import { wasmEngine } from "../../../host/bulk/wasm-engine.ts";
import { layout } from "../../../protocol/index.ts";
import { Random } from "../../../sim/random.ts";
import { byColumns } from "./by-columns.ts";
import { bySingleLines } from "./by-single-lines.ts";
import { fuzzedCapture } from "./fuzzed-capture.ts";
import { cutCapture, vectorCapture } from "./vector-capture.ts";

const engines: readonly Engine[] = [new PlainEngine(layout), wasmEngine(layout)!];

/** Compares member by member, so that a difference is shown where it is. */
async function expectSame(text: Uint8Array, cut: () => number): Promise<{ records: number; fellBack: number }> {
  const single = await bySingleLines(text);
  let most = 0;
  for (const engine of engines) {
    const { rows, ambient, items, counts, readings, rejected, fellBack } = await byColumns(text, engine, cut);
    expect(counts, engine.name).toEqual(single.counts);
    expect(items, engine.name).toEqual(single.items);
    expect(rows.length, engine.name).toBe(single.rows.length);
    if (!isDeepStrictEqual(rows, single.rows)) {
      for (const [i, row] of rows.entries()) expect(row, `${engine.name}, read ${i}`).toEqual(single.rows[i]);
    }
    expect(ambient, engine.name).toEqual(single.ambient);
    expect({ readings, rejected }, engine.name).toEqual({ readings: single.readings, rejected: single.rejected });
    most = Math.max(most, fellBack);
  }
  return { records: single.rows.length + single.ambient.length, fellBack: most };
}

describe("columns and single lines", () => {
  it.each(["training-leg", "damaged"])("agree on %s.jsonl", async (name) => {
    const text = readFileSync(new URL(`../../../vectors/captures/${name}.jsonl`, import.meta.url));
    await expectSame(text, () => 1000);
  });

  it("agree on every vector of a record and of two slots", async () => {
    const text = vectorCapture();
    await expectSame(text, () => 50_000);
  });

  it("agree on a read that is cut at any word", async () => {
    const { records } = await expectSame(cutCapture(), () => 50_000);
    // 104 words from 0, from 8 and from 16 on, and none.
    expect(records).toBe(105 + 97 + 89);
  });

  it("agree on difficult captures, most records of which fit a learned order", async () => {
    let [records, fellBack] = [0, 0];
    for (let seed = 0; seed < 24; seed++) {
      const random = new Random(seed, "difficult");
      const text = fuzzedCapture(random, 400);
      const found = await expectSame(text, () => 1 + (random.integer() % 70_000));
      records += found.records;
      fellBack += found.fellBack;
    }
    expect(records).toBeGreaterThan(4000);
    expect(fellBack).toBeLessThan(records / 2);
  });
});

describe("the two engines", () => {
  it("give the same bytes in every column", async () => {
    const text = fuzzedCapture(new Random(99, "difficult"), 1500);
    const copies = [];
    for (const engine of engines) copies.push(await columnBytes(text, engine));
    expect(copies[0]!.length).toBeGreaterThan(3);
    expect(copies[1]).toEqual(copies[0]);
  });
});

/** Hex of the used part of every column after every batch. */
async function columnBytes(text: Uint8Array, engine: Engine): Promise<string[]> {
  const { Account } = await import("../../../host/bulk/account.ts");
  const { streamBatches } = await import("../../../host/bulk/stream-batches.ts");
  const copies: string[] = [];
  async function* source() {
    yield text;
  }
  for await (const batch of streamBatches(source(), "capture", layout, engine, new Account(layout))) {
    const { reads, ambient, verdicts, fields, rows, ambientRows } = batch;
    const used = [
      ...Object.entries({ ...reads, ...verdicts, ...fields }).map(
        ([id, column]) => [id, column.subarray(0, rows)] as const,
      ),
      ...Object.entries(ambient).map(([id, column]) => [`ambient ${id}`, column.subarray(0, ambientRows)] as const),
    ];
    for (const [id, column] of used) {
      copies.push(`${id} ${Buffer.from(column.buffer, column.byteOffset, column.byteLength).toString("hex")}`);
    }
    copies.push(batch.tags.join());
  }
  return copies;
}
