/** Which lines a block of a file holds. Places are counted by hand. */
import { closeSync, mkdtempSync, openSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it, onTestFinished } from "vitest";
import { FileBlocks } from "../../../host/bulk/file-blocks.ts";

function rangesOf(text: string, blockBytes: number): (readonly [from: number, to: number])[] {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-file-blocks-"));
  const path = join(folder, "file");
  writeFileSync(path, text);
  const file = openSync(path, "r");
  onTestFinished(() => {
    closeSync(file);
    rmSync(folder, { recursive: true });
  });
  const blocks = new FileBlocks(file, text.length, blockBytes);
  return Array.from({ length: blocks.count }, (_, block) => {
    const { from, to } = blocks.range(block);
    return [from, to] as const;
  });
}

const line = (bytes: number) => `${"x".repeat(bytes - 1)}\n`;

it("holds the lines that begin in its bytes, the first 4096 of the file or one part behind them", () => {
  // Lines begin at 0, 4095, 4096, 4106 and 4205; parts at 4096 and 4196.
  const text = line(4095) + line(1) + line(10) + line(99) + line(7);
  expect(rangesOf(text, 100)).toEqual([
    [0, 4096],
    [4096, 4205],
    [4205, 4212],
  ]);
});

it("holds nothing where a longer line lies, and the last line without an end", () => {
  // Lines begin at 0, 10 and 9010; the parts of 1000 bytes at 4096, 5096, …, 8096 and 9096.
  const text = line(10) + line(9000) + "x".repeat(200);
  expect(rangesOf(text, 1000)).toEqual([
    [0, 9010],
    [9010, 9010],
    [9010, 9010],
    [9010, 9010],
    [9010, 9010],
    [9010, 9210],
    [9210, 9210],
  ]);
});

it("is one for a short file and for an empty one", () => {
  expect(rangesOf(line(20), 10)).toEqual([[0, 20]]);
  expect(rangesOf("", 10)).toEqual([[0, 0]]);
});
