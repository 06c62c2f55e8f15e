/**
 * The order of members, and everything else between the values, that one line of a capture has: what a scanner learns so
 * that it need not look at names again.
 */

/** Kinds of value by their number; `any` does not matter. */
export const KINDS = [
  "line_end",
  "kit_time_us",
  "epc",
  "pc",
  "xpc",
  "rssi_dbm",
  "frequency_khz",
  "result",
  "bank",
  "word",
  "words",
  "ambient_kit_time_us",
  "pressure_raw",
  "temperature_cel",
  "any",
] as const;

export type Kind = (typeof KINDS)[number];

/** Text as it must stand, and the kind of value behind it. */
export interface Step {
  readonly text: Uint8Array;
  readonly value: number;
}

export interface Order {
  readonly record: "read" | "ambient";
  /** The last one is the end of the line. */
  readonly steps: readonly Step[];
}

/** Most steps and bytes of text of an order. */
export const MOST_STEPS = 47;
export const MOST_TEXT = 4096;

const MEMBERS = {
  read: [
    "kit_time_us",
    "epc",
    "pc",
    "xpc",
    "rssi_dbm",
    "frequency_khz",
    "result",
    "bank",
    "word",
    "words",
  ] as readonly string[],
  ambient: ["kit_time_us", "pressure_raw", "temperature_cel"] as readonly string[],
};

/** One member of a flat JSON object, or what follows the last: white space, name and value with their places. */
const MEMBER = /\s*"([^"]*)"\s*:\s*("[^"]*"|[-+.\w]+)\s*([,}])/dy;

/**
 * The order of a line that was read as a report. Null when it is of no use for others: members within members, a member that
 * stands twice, an escape, text beyond ASCII, no line end.
 */
export function orderOf(line: Uint8Array): Order | null {
  if (line.at(-1) !== 10 || line.some((byte) => byte >= 0x80 || byte === 0x5c)) return null;
  const text = Buffer.from(line.buffer, line.byteOffset, line.length).toString("latin1");
  const members = membersOf(text);
  const record = members?.find(({ name }) => name === "record")?.value;
  if (!members || (record !== '"read"' && record !== '"ambient"')) return null;
  const known = record === '"read"' ? "read" : "ambient";
  const steps: Step[] = [];
  let from = 0;
  for (const { name, value, at } of members) {
    if (name === "record") continue;
    const kind = kindOf(known, name);
    const isQuoted = kind !== "any" && value.startsWith('"');
    steps.push({
      text: line.slice(from, isQuoted ? at + 1 : at),
      value: KINDS.indexOf(kind),
    });
    from = at + value.length - (isQuoted ? 1 : 0);
  }
  steps.push({ text: line.slice(from), value: KINDS.indexOf("line_end") });
  const bytes = steps.reduce((sum, step) => sum + step.text.length + 16, 0);
  return steps.length <= MOST_STEPS && bytes <= MOST_TEXT ? { record: known, steps } : null;
}

function kindOf(record: "read" | "ambient", name: string): Kind {
  if (!MEMBERS[record].includes(name)) return "any";
  return record === "ambient" && name === "kit_time_us" ? "ambient_kit_time_us" : (name as Kind);
}

interface Member {
  readonly name: string;
  readonly value: string;
  /** Where the value begins. */
  readonly at: number;
}

function membersOf(text: string): Member[] | null {
  const start = text.indexOf("{");
  if (start < 0 || text.slice(0, start).trim() !== "") return null;
  const members: Member[] = [];
  MEMBER.lastIndex = start + 1;
  for (;;) {
    const found = MEMBER.exec(text);
    if (!found) return null;
    const [, name, value, end] = found as unknown as [string, string, string, string];
    if (members.some((member) => member.name === name)) return null;
    members.push({ name, value, at: found.indices![2]![0] });
    if (end === "}") return text.slice(MEMBER.lastIndex).trim() === "" ? members : null;
  }
}
