/** A table in Markdown, columns padded so that it reads well on a terminal too; the first column to the left, the others right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const widths = head.map((cell, i) => Math.max(cell.length, ...rows.map((row) => row[i]!.length)));
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell, i) => (i === 0 ? cell.padEnd(widths[i]!) : cell.padStart(widths[i]!))).join(" | ")} |`;
  const rule = `|${widths.map((width, i) => (i === 0 ? "-".repeat(width + 2) : `${"-".repeat(width + 1)}:`)).join("|")}|`;
  return [line(head), rule, ...rows.map(line)].join("\n");
}
