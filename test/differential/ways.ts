/** The ways of decoding frames that are held against each other. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Engine, ROWS } from "../../host/bulk/engine.ts";
import { PlainEngine } from "../../host/bulk/plain-engine.ts";
import { wasmEngine } from "../../host/bulk/wasm-engine.ts";
import { decodeWithParser } from "../../protocol/codec/parser.ts";
import { fieldIndex, isFault, layout, makeDecoder, reasons, recordOf } from "../../protocol/index.ts";
import { kaitaiTypes, memberName, type Parsed } from "../support/kaitai.ts";
import { SIZE } from "./made-frames.ts";

export const FIELDS = ["status", "sequence", "pressure", "temperature", "supply", "uptime"] as const;
const WIDTH = FIELDS.length + 1;

/**
 * What a way says of every frame: verdict as in the codec (reason · 256 + field), then the fields, one frame after the other.
 * Where the verdict is not 0 the fields mean nothing.
 */
export type Answers = Int32Array;

export interface Way {
  readonly name: string;
  /** Works on frames that lie one after the other; everything it needs before and after is part of it. */
  answer(all: Uint8Array): Answers;
}

const frame = recordOf(layout, "frame");
const indices = FIELDS.map((id) => fieldIndex(frame, id));

function plainDecoder(all: Uint8Array): Answers {
  const decoder = makeDecoder(frame);
  const raws = new Float64Array(frame.fields.length);
  const answers = new Int32Array((all.length / SIZE) * WIDTH);
  for (let at = 0, to = 0; at < all.length; at += SIZE) {
    answers[to++] = decoder(all, at, at + SIZE, raws);
    for (const index of indices) answers[to++] = raws[index]!;
  }
  return answers;
}

/** A fault of this decoder has a path instead of an index. */
function parserDecoder(all: Uint8Array): Answers {
  const answers = new Int32Array((all.length / SIZE) * WIDTH);
  for (let at = 0, to = 0; at < all.length; at += SIZE, to += WIDTH) {
    const decoded = decodeWithParser(frame, all, at, at + SIZE);
    if (isFault(decoded)) {
      const index = frame.fields.findIndex(({ path }) => path === decoded.path || decoded.path.startsWith(`${path}.`));
      answers[to] = reasons[decoded.code].number * 256 + (index < 0 ? 255 : index);
    } else for (const [i, index] of indices.entries()) answers[to + 1 + i] = decoded.raws[index]!;
  }
  return answers;
}

function byEngine(engine: Engine) {
  return (all: Uint8Array): Answers => {
    const answers = new Int32Array((all.length / SIZE) * WIDTH);
    const verdicts = engine.columns.verdicts.slot_a!;
    const columns = FIELDS.map((id) => engine.columns.fields[id]!);
    for (let at = 0, to = 0; at < all.length; at += ROWS * SIZE) {
      const part = all.subarray(at, at + ROWS * SIZE);
      engine.input.set(part);
      engine.takeFrames(part.length / SIZE);
      for (let row = 0; row < part.length / SIZE; row++) {
        answers[to++] = verdicts[row]!;
        for (const column of columns) answers[to++] = column[row]!;
      }
    }
    return answers;
  };
}

/** Compiles the C once; a compiler that is missing or finds fault is an Error. */
export function nativeWay(): Way {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-differential-"));
  process.once("exit", () => rmSync(folder, { recursive: true, force: true }));
  const program = join(folder, "native");
  run("gcc", ["-O2", "-std=gnu11", "-o", program, join(import.meta.dirname, "native.c")]);
  return {
    name: "C, gcc -O2",
    answer: (all) => {
      const file = join(folder, "frames.bin");
      writeFileSync(file, all);
      const bytes = run(program, [file]);
      return new Int32Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
    },
  };
}

function run(command: string, words: readonly string[]): Buffer {
  const { error, status, stdout, stderr } = spawnSync(command, words, { maxBuffer: 1 << 30 });
  if (error) throw error;
  if (status !== 0) throw new Error(`${command} ended with status ${status}: ${stderr}`);
  return stdout;
}

/** The parser that the compiler of Kaitai Struct makes of the emitted description. */
export async function kaitaiWay(): Promise<Way> {
  const parse = (await kaitaiTypes()).parserOf("frame");
  const rawOf = (parsed: Parsed, id: string) => parsed[memberName(`${id}_raw`)] ?? parsed[memberName(id)];
  return {
    name: "Kaitai Struct, JavaScript",
    answer: (all) => {
      const answers = new Int32Array((all.length / SIZE) * WIDTH);
      for (let at = 0, to = 0; at < all.length; at += SIZE) {
        const parsed = parse(all.subarray(at, at + SIZE));
        answers[to++] = parsed.verdict;
        for (const id of FIELDS) answers[to++] = rawOf(parsed, id) as number;
      }
      return answers;
    },
  };
}

/** Ways that need nothing installed; the first is the one the others are held against. */
export function ownWays(): Way[] {
  return [
    { name: "plain decoder", answer: plainDecoder },
    { name: "binary-parser + crc", answer: parserDecoder },
    { name: "bulk, plain TypeScript", answer: byEngine(new PlainEngine(layout)) },
    { name: "bulk, WebAssembly", answer: byEngine(wasmEngine(layout)!) },
  ];
}

/** Frames on which two ways do not agree: another verdict, or another field of a good frame. */
export function disagreements(one: Answers, other: Answers): number[] {
  if (one.length !== other.length) throw new Error(`${one.length / WIDTH} frames against ${other.length / WIDTH}`);
  const found: number[] = [];
  for (let at = 0; at < one.length; at += WIDTH) {
    let same = one[at] === other[at];
    if (same && one[at] === 0) for (let i = 1; i < WIDTH; i++) same &&= one[at + i] === other[at + i];
    if (!same) found.push(at / WIDTH);
  }
  return found;
}

/** How many frames have each verdict, by the number of the reason. */
export function reasonCounts(answers: Answers): Map<number, number> {
  const counts = new Map<number, number>();
  for (let at = 0; at < answers.length; at += WIDTH) {
    const reason = answers[at]! >> 8;
    counts.set(reason, (counts.get(reason) ?? 0) + 1);
  }
  return counts;
}
