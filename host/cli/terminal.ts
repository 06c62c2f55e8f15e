/** What the commands share in talking to a terminal: results on stdout, messages on stderr, colour only where it is wanted. */
import picocolors from "picocolors";
import { EXIT, systemSentence } from "./exit.ts";

/** Colour functions that do nothing when stdout is no terminal or NO_COLOR is set. */
export const paint = picocolors.createColors(process.stdout.isTTY === true && !process.env.NO_COLOR);

let gone = false;

process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  gone = true;
  if (error.code === "EPIPE") return;
  note(`plyframe: ${systemSentence("standard output", error)}`);
  process.exitCode = EXIT.device;
});

/** Whether nobody takes the results any more: a reader such as `head` that has seen enough, which is no error, or a full disk. */
export function outputGone(): boolean {
  return gone;
}

/** One line of result. */
export function say(line: string): void {
  if (!gone) process.stdout.write(`${line}\n`);
}

/** One line of message: never part of a result that another program reads. */
export function note(line: string): void {
  process.stderr.write(`${line}\n`);
}

/** One JSON line of result. */
export function sayJson(value: unknown): void {
  say(JSON.stringify(value));
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: colour sequences start with the escape character.
const COLOUR = /\u001b\[[0-9;]*m/g;

/** Columns a text takes on the screen, colour sequences not counted. */
export function shownWidth(text: string): number {
  return [...text.replace(COLOUR, "")].length;
}

/** Rows as aligned columns; `right` holds the indices of the columns aligned to the right; `full`: all lines of one width. */
export function columns(rows: readonly (readonly string[])[], right: readonly number[] = [], full = false): string[] {
  const widths: number[] = [];
  for (const row of rows) {
    row.forEach((cell, i) => {
      widths[i] = Math.max(widths[i] ?? 0, shownWidth(cell));
    });
  }
  return rows.map((row) => {
    const line = row
      .map((cell, i) => {
        const gap = " ".repeat(widths[i]! - shownWidth(cell));
        return right.includes(i) ? gap + cell : cell + gap;
      })
      .join("  ");
    return full ? line : line.trimEnd();
  });
}

/** Text folded to a width at spaces, for long sentences in a narrow terminal. */
export function fold(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line && shownWidth(line) + 1 + shownWidth(word) > width) {
      lines.push(line);
      line = word;
    } else line = line ? `${line} ${word}` : word;
  }
  return line ? [...lines, line] : lines;
}
