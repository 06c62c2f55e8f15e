/** A capture of every vector that holds words of a tag. */
import { readVectorFile } from "../../support/vectors.ts";

const PLACES: { readonly [record: string]: readonly number[] } = {
  header: [0],
  frame: [8, 16],
  counters: [24, 32],
  calibration: [40, 56],
  burst: [72],
};

export function vectorCapture(): Buffer {
  const lines: string[] = [];
  const add = (word: number, hex: string) => {
    // Half a word cannot be read; the vector then counts as the words before it.
    const words = hex.slice(0, 4 * Math.floor(hex.length / 4)).toLowerCase();
    lines.push(
      JSON.stringify({
        record: "read",
        kit_time_us: 1000 * lines.length,
        epc: "3066c4409047e14000004b01",
        pc: "3600",
        xpc: "0000",
        rssi_dbm: -40,
        frequency_khz: 865_700,
        result: "done",
        bank: "user",
        word,
        words,
      }),
    );
  };
  for (const file of ["frames", "header", "counters", "calibration", "burst", "verdict-order"]) {
    for (const { record, hex } of readVectorFile(`${file}.json`).vectors as unknown as {
      record: string;
      hex: string;
    }[]) {
      for (const word of PLACES[record] ?? []) add(word, hex);
    }
  }
  for (const { hex } of readVectorFile("slots.json").vectors as unknown as { hex: string }[]) add(8, hex);
  return Buffer.from(`${lines.join("\n")}\n`);
}
