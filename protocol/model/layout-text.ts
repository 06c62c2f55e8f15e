/** JSON text of a layout that people can read and diff: one line a field, a region, a message. */

const WIDTH = 110;
const DEPTH = 4;

/** JSON with objects and arrays on one line when they are short or deep, and with a line for each member when not. */
export function layoutText(value: unknown, depth = 0): string {
  const compact = JSON.stringify(value);
  if (typeof value !== "object" || value === null || compact.length <= WIDTH || depth >= DEPTH) return compact;
  const indent = "  ".repeat(depth + 1);
  const end = `\n${"  ".repeat(depth)}`;
  if (Array.isArray(value)) {
    return `[\n${value.map((item) => indent + layoutText(item, depth + 1)).join(",\n")}${end}]`;
  }
  const members = Object.entries(value).map(
    ([key, member]) => `${indent}${JSON.stringify(key)}: ${layoutText(member, depth + 1)}`,
  );
  return `{\n${members.join(",\n")}${end}}`;
}
