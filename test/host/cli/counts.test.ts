/** Nothing is dropped uncounted: the sums of decode add up to the lines of the file. */
import { readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { describe, expect, it } from "vitest";
import { complaints, LEG, legLines, plyframe, testFolder } from "../../support/plyframe.ts";

const DAMAGED = resolve(import.meta.dirname, "../../../vectors/captures/damaged.jsonl");

function numbers(text: string, pattern: RegExp): number[] {
  const found = pattern.exec(text);
  expect(found, text).not.toBeNull();
  return found!.slice(1).map(Number);
}

const LINES = /(\d+) lines: (\d+) header, (\d+) read, (\d+) ambient, (\d+) blank, (\d+) unreadable\./;
const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

/** Numbers of the sentence on reads: first the reads, then what became of each; the number of frames is left out. */
function reads(stderr: string): number[] {
  const sentence = /(\d+ reads: .*?)\. \d+ ambient/.exec(stderr)![1]!;
  return (sentence.replace(/ of \d+ frames/, "").match(/\d+/g) ?? []).map(Number);
}

describe("the counts of decode", () => {
  it("add up for a good capture", async () => {
    const { stderr, stdout, status } = await plyframe(["decode", LEG]);
    const [lines, ...kinds] = numbers(stderr, LINES);
    expect(lines).toBe(legLines.length);
    expect(sum(kinds)).toBe(lines);
    const [all, ...became] = reads(stderr);
    expect(all).toBe(kinds[1]);
    expect(sum(became)).toBe(all);
    expect(stdout.match(/\n/g)).toHaveLength(became[0]! + became[1]!);
    expect(status).toBe(0);
  });

  it("add up for a damaged one, and the rejects are its bad lines in their order", async () => {
    const folder = testFolder();
    const ended = await plyframe(["decode", "--json", "--rejects", join(folder, "rejects"), DAMAGED]);
    const [lines, ...kinds] = numbers(ended.stderr, LINES);
    expect(sum(kinds)).toBe(lines);
    const [all, ...became] = reads(ended.stderr);
    expect(sum(became)).toBe(all);
    // Lines 4 to 15 are the faults, by the page that describes the file.
    const text = readFileSync(DAMAGED, "latin1").split("\n");
    expect(readFileSync(join(folder, "rejects"), "latin1")).toBe(`${text.slice(3, 15).join("\n")}\n`);
    expect(complaints(ended)).toHaveLength(12);
    expect(ended.stderr).toContain("12 records rejected");
  });

  it("are those of all captures in one file", async () => {
    const twice = `${legLines.join("\n")}\n`.repeat(2);
    const once = reads((await plyframe(["decode", "--json", LEG])).stderr);
    const both = await plyframe(["decode", "--json", "-"], { input: twice });
    expect(reads(both.stderr)).toEqual(once.map((count) => 2 * count));
  });
});
