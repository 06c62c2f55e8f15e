/** Two readers of one file give the same batches, in the same order, as one line after the other. */
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it, onTestFinished } from "vitest";
import { Account } from "../../../host/bulk/account.ts";
import type { Range } from "../../../host/bulk/file-ranges.ts";
import { FileReader } from "../../../host/bulk/file-reader.ts";
import { PlainEngine } from "../../../host/bulk/plain-engine.ts";
import { RangeScan } from "../../../host/bulk/range-scan.ts";
import type { FromSecond, SecondReader } from "../../../host/bulk/second-reader.ts";
import { wasmEngine } from "../../../host/bulk/wasm-engine.ts";
import { layout } from "../../../protocol/index.ts";
import { Random } from "../../../sim/random.ts";
import { storyOf } from "./by-columns.ts";
import { bySingleLines } from "./by-single-lines.ts";
import { fuzzedCapture } from "./fuzzed-capture.ts";

/** The second reader without a thread: whatever it says has crossed as it would cross to another one. */
class InProcess implements SecondReader {
  ended: string[] = [];
  readonly #scan: RangeScan;
  readonly #messages: FromSecond[] = [];
  #open = 0;
  #wake = () => {};

  constructor(file: number) {
    this.#scan = new RangeScan(layout, wasmEngine(layout)!, file, "capture", (message) => {
      const transfer = message.kind === "batch" ? [message.memory] : [];
      this.#messages.push(structuredClone(message, { transfer }));
      this.#wake();
    });
  }

  get wantsMore(): boolean {
    return this.#open < 2;
  }

  give(range: Range): void {
    this.#open++;
    void this.#scan.give(range);
  }

  giveBack(memory: ArrayBuffer): void {
    this.#scan.giveBack(memory);
  }

  async next(): Promise<FromSecond> {
    while (this.#messages.length === 0) {
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
    }
    const message = this.#messages.shift()!;
    if (message.kind === "batch") return message;
    this.ended.push(message.kind);
    this.#open--;
    return message;
  }

  async end(): Promise<void> {}
}

async function read(text: Uint8Array, rangeBytes: number) {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-two-readers-"));
  const path = join(folder, "capture.jsonl");
  writeFileSync(path, text);
  const file = openSync(path, "r");
  onTestFinished(() => {
    closeSync(file);
    rmSync(folder, { recursive: true });
  });
  const second = new InProcess(file);
  const account = new Account(layout);
  const options = { file, size: text.length, layout, engine: new PlainEngine(layout), account, name: "capture" };
  const { fellBack: _, ...story } = await storyOf(
    new FileReader({ ...options, second, rangeBytes }).batches(),
    account,
  );
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

  it("take a byte order mark for what it is anywhere but in the first line", async () => {
    const marked = `\uFEFF${line(1)}`;
    const text = Buffer.from(`\uFEFF${header(1)}${lines(40)}${marked.repeat(60)}`);
    const { story, ended } = await read(text, 2048);
    expect(ended.length).toBeGreaterThan(3);
    expect(story.counts.rejected).toEqual({ "json-invalid": 60 });
    expect(story).toEqual(await bySingleLines(text));
  });

  it("agree on difficult captures, over and over taking over from each other", async () => {
    let shared = 0;
    for (let seed = 0; seed < 8; seed++) {
      const text = fuzzedCapture(new Random(seed, "two readers"), 500);
      const { story, ended } = await read(text, 3000 + 7000 * seed);
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
