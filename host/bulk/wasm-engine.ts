/** The engine in WebAssembly, made of the C in native/. */
import type { Layout } from "../../protocol/index.ts";
import { DATA_BYTES, type Engine, INPUT_BYTES, makeColumns, ROWS, SLACK, STATE, TAG_BYTES } from "./engine.ts";
import { type ListedName, reportLimits } from "./limits.ts";
import { KINDS, MOST_STEPS, MOST_TEXT, type Order } from "./order.ts";
import { wasmBase64 } from "./wasm-binary.ts";

/** Sizes of the C's lists of names and of each name. */
const NAMES = 16;
const NAME_BYTES = 32;

interface Exports {
  readonly memory: WebAssembly.Memory;
  prepare(): void;
  address(index: number): number;
  begin(origin: number): void;
  scan(from: number, to: number): number;
  take_read(...read: number[]): void;
  take_ambient(byte: number, kitTimeUs: number, pressureRaw: number, temperatureC: number): void;
  take_frames(count: number): void;
}

/** A new engine with memory of its own; null where this machine's WebAssembly has no 128-bit vectors. */
export function wasmEngine(layout: Layout): Engine | null {
  const binary = Buffer.from(wasmBase64, "base64");
  if (!WebAssembly.validate(binary)) return null;
  const program = new WebAssembly.Instance(new WebAssembly.Module(binary)).exports as unknown as Exports;
  program.prepare();
  const { buffer } = program.memory;
  let index = 0;
  const bytes = (length: number) => new Uint8Array(buffer, program.address(index++), length);
  const input = bytes(INPUT_BYTES + SLACK);
  const data = bytes(DATA_BYTES + SLACK);
  const state = new Uint32Array(buffer, program.address(index++), Object.keys(STATE).length);
  const tagBytes = bytes((ROWS + 1) * TAG_BYTES);
  const tagLengths = new Uint32Array(buffer, program.address(index++), ROWS + 1);
  const steps = new Uint32Array(buffer, program.address(index++), 2 * (MOST_STEPS + 1) * 3);
  const texts = bytes(2 * (MOST_TEXT + SLACK));
  const masks = bytes(2 * (MOST_TEXT + SLACK));
  const limits = new Float64Array(buffer, program.address(index++), 2 * KINDS.length);
  const names = bytes(2 * NAMES * NAME_BYTES);
  const nameMasks = bytes(2 * NAMES * NAME_BYTES);
  const columns = makeColumns(layout, (type) => new type(buffer, program.address(index++), ROWS) as never);

  const allowed = reportLimits(layout);
  for (const [i, kind] of KINDS.entries()) limits.set(allowed.limits[kind] ?? [0, 0], 2 * i);
  setNames(allowed.results, 0);
  setNames(allowed.banks, 1);

  function setNames(list: readonly ListedName[], which: number): void {
    list.forEach(({ id, raw }, i) => {
      const at = (which * NAMES + i) * NAME_BYTES;
      const text = Buffer.from(`${id}"`);
      if (text.length > NAME_BYTES - 2 || i >= NAMES) throw new Error(`${id}: no room among the names`);
      names.set(text, at);
      names.set([text.length, raw], at + NAME_BYTES - 2);
      nameMasks.fill(0xff, at, at + text.length);
    });
  }

  return {
    name: "WebAssembly",
    input,
    data,
    state,
    tagBytes,
    tagLengths,
    columns,
    learn(order: Order) {
      const which = order.record === "read" ? 0 : 1;
      const base = which * (MOST_TEXT + SLACK);
      let at = 0;
      masks.fill(0, base, base + MOST_TEXT);
      order.steps.forEach(({ text, value }, i) => {
        steps.set([at, text.length, value], (which * (MOST_STEPS + 1) + i) * 3);
        texts.set(text, base + at);
        masks.fill(0xff, base + at, base + at + text.length);
        // Each text begins at a vector of its own.
        at += (text.length + 15) & ~15;
      });
      steps[(which * (MOST_STEPS + 1) + order.steps.length) * 3 + 1] = 0;
    },
    begin: (origin) => program.begin(origin),
    scan(from, to) {
      input[to] = 0;
      return program.scan(from, to) >>> 0;
    },
    takeRead: (read) =>
      program.take_read(
        read.byte,
        read.kitTimeUs,
        read.epcBytes,
        read.pc,
        read.xpc,
        read.rssiDbm,
        read.frequencyKhz,
        read.result,
        read.bank,
        read.word,
        read.dataBytes,
      ),
    takeAmbient: (...report) => program.take_ambient(...report),
    takeFrames: (count) => program.take_frames(count),
  };
}
