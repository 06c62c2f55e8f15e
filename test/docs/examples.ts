/** Examples in the documents: fenced `console` blocks, a command after `$ ` and what it prints, both streams, after it. */

export interface Example {
  readonly file: string;
  /** Line of the command, counted from 1. */
  readonly line: number;
  readonly command: string;
  readonly expected: readonly string[];
  /** Numbers, padding and order of rows differ from run to run: only the shape is compared. */
  readonly shape: boolean;
}

export function examplesOf(file: string, text: string): Example[] {
  const examples: Example[] = [];
  const lines = text.split("\n");
  for (let i = 0; i < lines.length; i++) {
    if (lines[i] !== "```console") continue;
    const shape = (lines[i - 1] ?? "").includes("numbers differ from run to run");
    for (i++; i < lines.length && lines[i] !== "```"; ) {
      const command = lines[i]!.replace(/^\$ /, "");
      if (command === lines[i]) throw new Error(`${file}:${i + 1}: a console block begins with "$ "`);
      const line = i + 1;
      const expected: string[] = [];
      for (i++; i < lines.length && lines[i] !== "```" && !lines[i]!.startsWith("$ "); i++) expected.push(lines[i]!);
      examples.push({ file, line, command, expected, shape });
    }
  }
  return examples;
}

/** Whether what was printed is what was promised; a line `...` stands for any number of lines. */
export function fits(expected: readonly string[], printed: readonly string[]): boolean {
  if (expected.length === 0) return printed.length === 0;
  const [first, ...rest] = expected as [string, ...string[]];
  if (first === "...") return printed.some((_, i) => fits(rest, printed.slice(i))) || fits(rest, []);
  return printed.length > 0 && printed[0] === first && fits(rest, printed.slice(1));
}

/** A line with its numbers and padding taken out, and the quality flags of a live table, which differ with the moment. */
export function shapeOf(line: string): string {
  return line
    .replace(/-?\d+(\.\d+)?/g, "#")
    .replace(/\s+/g, " ")
    .replace(/(# V # s) .*/, "$1")
    .trim();
}
