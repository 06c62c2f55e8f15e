/** Two readers of one file give the same batches, in the same order, as one line after the other. */
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { Account } from "../../../host/bulk/account.ts";
import { BlockScan } from "../../../host/bulk/block-scan.ts";
import { FileBlocks } from "../../../host/bulk/file-blocks.ts";
import { FileReader } from "../../../host/bulk/file-reader.ts";
import { PlainEngine } from "../../../host/bulk/plain-engine.ts";
import { type FromSecond, type Memory, notesOf, type SecondReader } from "../../../host/bulk/second-reader.ts";
import { wasmEngine } from "../../../host/bulk/wasm-engine.ts";
import { layout } from "../../../protocol/index.ts";
import { Random } from "../../../sim/random.ts";
import { storyOf } from "./by-columns.ts";
import { bySingleLines } from "./by-single-lines.ts";
import { fuzzedCapture } from "./fuzzed-capture.ts";

/**
 * The second reader without a thread: it takes some blocks at a time, before the first one can, and whatever it says has
 * crossed as it would cross to another thread.
 */
class InProcess implements SecondReader {
  readonly ended: string[] = [];
  readonly #blocks: FileBlocks;
  readonly #engine = wasmEngine(layout)!;
  readonly #scan: BlockScan;
  readonly #atOnce: number;
  #next = 0;
  #taken: ReturnType<BlockScan["batches"]>[] = [];

  constructor(blocks: FileBlocks, atOnce: number) {
    this.#blocks = blocks;
    this.#scan = new BlockScan(layout, this.#engine, blocks, "capture");
    this.#atOnce = atOnce;
  }

  begin(block: number): void {
    this.#next = block;
    this.#take();
  }

  claim(): number {
    return this.#next++;
  }

  async next(): Promise<FromSecond> {
    const { done, value } = this.#taken[0]!.next();
    if (!done) return structuredClone({ kind: "batch", notes: notesOf(value, this.#engine.input), engine: 0 });
    this.ended.push(value);
    this.#taken.shift();
    if (this.#taken.length === 0) this.#take();
    return { kind: value };
  }

  memory(): Memory {
    return this.#engine;
  }

  giveBack(): void {}

  #take(): void {
    for (let i = 0; i < this.#atOnce && this.#next < this.#blocks.count; i++) {
      this.#taken.push(this.#scan.batches(this.claim()));
    }
  }
}

async function read(text: Uint8Array, blockBytes: number, atOnce = 1) {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-two-readers-"));
  const path = join(folder, "capture.jsonl");
  writeFileSync(path, text);
  const file = openSync(path, "r");
  onTestFinished(() => {
    closeSync(file);
    rmSync(folder, { recursive: true });
  });
  const blocks = new FileBlocks(file, text.length, blockBytes);
  const second = new InProcess(blocks, atOnce);
  const account = new Account(layout);
  const reader = new FileReader({ blocks, layout, engine: new PlainEngine(layout), account, name: "capture", second });
  const { fellBack: _, ...story } = await storyOf(reader.batches(), account);
  return { story, ended: second.ended };
}

const line = (time: number) =>
  `{"record":"read","kit_time_us":${time},"epc":"3066","pc":"3600","xpc":"0000","rssi_dbm":null,"frequency_khz":1,"result":"tag_lost","bank":"user","word":0,"words":""}\n`;
const header = (version: number) =>
  `{"record":"capture","version":${version},"layout":1,"fingerprint":"028961a7","started":"2026-03-04T09:00:00.000Z","source":"test","barometer_uncertainty_pa":null}\n`;
const lines = (count: number) => Array.from({ length: count }, (_, i) => line(i)).join("");

describe("two readers of one file", () => {
  it("share it and agree with one line after the other", async () => {
    const text = Buffer.from(header(1) + lines(400));
    const { story, ended } = await read(text, 4096);
    expect(ended.length).toBeGreaterThan(3);
    expect(new Set(ended)).toEqual(new Set(["done"]));
    expect(story).toEqual(await bySingleLines(text));
  });

  it("do not believe what stands behind a header of another version, wherever it comes", async () => {
    const all: string[] = [];
    for (const before of [30, 70, 101, 140]) {
      const text = Buffer.from(header(1) + lines(before) + header(2) + lines(120) + header(1) + lines(100));
      const { story, ended } = await read(text, 4096);
      expect(story.counts.rejected).toEqual({ "version-unknown": 121 });
      expect(story).toEqual(await bySingleLines(text));
      all.push(...ended);
    }
    expect(new Set(all)).toEqual(new Set(["done", "stopped"]));
  });

  it("do not believe a block that has such a header and a good one behind it", async () => {
    const text = Buffer.from(header(1) + lines(60) + header(2) + lines(3) + header(1) + lines(60));
    const { story, ended } = await read(text, 65_536);
    expect(ended).toEqual(["stopped"]);
    expect(story.counts.rejected).toEqual({ "version-unknown": 4 });
    expect(story).toEqual(await bySingleLines(text));
  });

  it("do not believe the block behind one that ends with such a header", async () => {
    const before = header(1) + lines(40);
    const text = Buffer.from(before + header(2) + lines(60) + header(1) + lines(60));
    // The first block has 4096 bytes; the second one ends behind the first byte of the bad header, which is its last line then.
    const { story, ended } = await read(text, before.length + 1 - 4096);
    expect(ended[0]).toBe("stopped");
    expect(story.counts.rejected).toEqual({ "version-unknown": 61 });
    expect(story).toEqual(await bySingleLines(text));
  });

  it("do not call a file empty whose first records come late", async () => {
    const text = Buffer.from(header(1) + "\n".repeat(6000) + lines(60));
    const { story, ended } = await read(text, 4096);
    expect(ended.length).toBeGreaterThan(1);
    expect(story).toEqual(await bySingleLines(text));
  });

  it("take a byte order mark for what it is anywhere but in the first line", async () => {
    const marked = `\uFEFF${line(1)}`;
    const text = Buffer.from(`\uFEFF${header(1)}${lines(40)}${marked.repeat(60)}`);
    const { story, ended } = await read(text, 1024);
    expect(ended.length).toBeGreaterThan(3);
    expect(story.counts.rejected).toEqual({ "json-invalid": 60 });
    expect(story).toEqual(await bySingleLines(text));
  });

  it("agree on difficult captures, over and over taking over from each other", async () => {
    let shared = 0;
    for (let seed = 0; seed < 8; seed++) {
      const text = fuzzedCapture(new Random(seed, "two readers"), 500);
      const { story, ended } = await read(text, 3000 + 7000 * seed, 1 + (seed % 3));
      expect(story).toEqual(await bySingleLines(text));
      shared += ended.length;
    }
    expect(shared).toBeGreaterThan(20);
  });

  it("leave a capture with a heading row to one", async () => {
    const row = "1,3066,3600,0000,1,tag_lost,user,0,\n";
    const text = Buffer.from(`kit_time_us,epc,pc,xpc,frequency_khz,result,bank,word,words\n${row.repeat(300)}`);
    const { story, ended } = await read(text, 1000);
    expect(ended).toEqual([]);
    expect(story.counts.read).toBe(300);
    expect(story).toEqual(await bySingleLines(text));
  });
});
