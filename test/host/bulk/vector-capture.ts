/** Captures of records that are known: every vector that holds words of a tag, and one bank cut at any word. */
import { readFileSync } from "node:fs";
import { readVectorFile } from "../../support/vectors.ts";

const PLACES: { readonly [record: string]: readonly number[] } = {
  header: [0],
  frame: [8, 16],
  counters: [24, 32],
  calibration: [40, 56],
  burst: [72],
};

const line = (time: number, word: number, words: string) =>
  `${JSON.stringify({
    record: "read",
    kit_time_us: time,
    epc: "3066c4409047e14000004b01",
    pc: "3600",
    xpc: "0200",
    rssi_dbm: -40,
    frequency_khz: 865_700,
    result: "done",
    bank: "user",
    word,
    words,
  })}\n`;

const vectorsOf = (file: string) =>
  readVectorFile(`${file}.json`).vectors as unknown as { readonly record: string; readonly hex: string }[];

export function vectorCapture(): Buffer {
  const lines: string[] = [];
  const add = (word: number, hex: string) => {
    // Half a word cannot be read; the vector then counts as the words before it.
    lines.push(line(1000 * lines.length, word, hex.slice(0, 4 * Math.floor(hex.length / 4)).toLowerCase()));
  };
  for (const file of ["frames", "header", "counters", "calibration", "burst", "verdict-order"]) {
    for (const { record, hex } of vectorsOf(file)) for (const word of PLACES[record] ?? []) add(word, hex);
  }
  for (const { hex } of vectorsOf("slots")) add(8, hex);
  return Buffer.from(lines.join(""));
}

/** A bank whose records are all whole, read from the header or a slot on and cut at any word. */
export function cutCapture(): Buffer {
  const leg = readFileSync(new URL("../../../vectors/captures/training-leg.jsonl", import.meta.url), "utf8");
  const wordsAt = (place: number) => {
    const read = leg
      .split("\n")
      .filter((text) => text !== "")
      .map((text) => JSON.parse(text))
      .find(({ word, words }) => word === place && words !== "");
    return read.words as string;
  };
  const burst = vectorsOf("burst")[0]!.hex;
  const bank = wordsAt(0).padEnd(4 * 40, "0") + wordsAt(40) + burst;
  const lines: string[] = [];
  for (const word of [0, 8, 16]) {
    for (let end = word; end <= bank.length / 4; end++) {
      lines.push(line(1000 * lines.length, word, bank.slice(4 * word, 4 * end)));
    }
  }
  return Buffer.from(lines.join(""));
}
