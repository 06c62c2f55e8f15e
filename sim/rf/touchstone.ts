/**
 * Touchstone files of version 1 with one port (.s1p): reflection over frequency. Format: "Touchstone File Format
 * Specification", version 1; the order of frequencies from memory of it.
 */
import type { Complex } from "./complex.ts";
import { decimal, type TextFault } from "./text-fault.ts";

export interface ReflectionRow {
  /** Where the row stands in its file, counted from 1. */
  readonly line: number;
  readonly frequencyHz: number;
  /** Reflection against the reference resistance. */
  readonly reflection: Complex;
}

export interface Touchstone {
  readonly referenceOhm: number;
  /** Frequencies rise strictly. */
  readonly rows: readonly ReflectionRow[];
}

const HERTZ: { readonly [unit: string]: number } = { HZ: 1, KHZ: 1e3, MHZ: 1e6, GHZ: 1e9 };
const PARAMETERS = ["S", "Y", "Z", "H", "G"];
const FORMATS = ["RI", "MA", "DB"];

interface Options {
  readonly hertz: number;
  readonly format: string;
  readonly referenceOhm: number;
}

/** Reads the text of an .s1p file; the first thing wrong in it ends the reading. */
export function parseTouchstone(text: string): Touchstone | TextFault {
  let options: Options | null = null;
  const rows: ReflectionRow[] = [];
  let line = 0;
  for (const whole of text.replace(/^\uFEFF/, "").split(/\r\n|\r|\n/)) {
    line++;
    const content = whole.replace(/!.*$/, "").trim();
    if (content === "") continue;
    if (content.startsWith("["))
      return { line, field: content, says: "a keyword of version 2; version 1 is read here" };
    if (content.startsWith("#")) {
      if (options) continue; // Option lines behind the first are to be ignored.
      const read = parseOptions(content.slice(1), line);
      if ("says" in read) return read;
      options = read;
    } else if (!options) {
      return { line, field: "option line", says: `"# MHz S RI R 50" or the like must come before the data` };
    } else {
      const row = parseRow(content, line, options, rows.at(-1));
      if ("says" in row) return row;
      rows.push(row);
    }
  }
  if (!options) return { line, field: "option line", says: "the file ends without one" };
  if (rows.length === 0) return { line, field: "data", says: "the file ends without a line of data" };
  return { referenceOhm: options.referenceOhm, rows };
}

/** Entries in any order, each at most once; what is left out is GHz, S, MA, R 50. */
function parseOptions(text: string, line: number): Options | TextFault {
  const field = "option line";
  const entries = text.trim().toUpperCase().split(/\s+/).filter(Boolean);
  const found: { unit?: string; parameter?: string; format?: string; resistance?: string } = {};
  for (let i = 0; i < entries.length; i++) {
    const entry = entries[i]!;
    const kind =
      HERTZ[entry] !== undefined
        ? "unit"
        : PARAMETERS.includes(entry)
          ? "parameter"
          : FORMATS.includes(entry)
            ? "format"
            : entry === "R"
              ? "resistance"
              : null;
    if (kind === null) {
      return { line, field, says: `"${entry}" is no frequency unit, parameter, format or "R" with a resistance` };
    }
    if (found[kind] !== undefined) return { line, field, says: `a second ${kind}, "${entry}"` };
    found[kind] = kind === "resistance" ? (entries[++i] ?? "nothing") : entry;
  }
  const { unit = "GHZ", parameter = "S", format = "MA", resistance = "50" } = found;
  if (parameter !== "S") {
    return { line, field, says: `${parameter} parameters; programs do not agree on how to scale them, so give S` };
  }
  const referenceOhm = decimal(resistance);
  if (referenceOhm === null || referenceOhm <= 0) {
    return { line, field, says: `R needs a resistance above 0 ohm behind it, not ${resistance.toLowerCase()}` };
  }
  return { hertz: HERTZ[unit]!, format, referenceOhm };
}

function parseRow(content: string, line: number, options: Options, before?: ReflectionRow): ReflectionRow | TextFault {
  const parts = content.split(/\s+/);
  if (parts.length !== 3) {
    const more = parts.length === 9 ? " (nine are a two-port's)" : "";
    return {
      line,
      field: "data",
      says: `a frequency and two numbers make a line of one port, not ${parts.length}${more}`,
    };
  }
  const numbers = parts.map(decimal);
  const bad = numbers.indexOf(null);
  if (bad >= 0) return { line, field: columnNames(options.format)[bad]!, says: `"${parts[bad]}" is no number` };
  const [frequency, first, second] = numbers as [number, number, number];
  const frequencyHz = frequency * options.hertz;
  if (frequency < 0) return { line, field: "frequency", says: `${parts[0]} is below 0` };
  if (before && frequencyHz <= before.frequencyHz) {
    return { line, field: "frequency", says: `${parts[0]} does not rise above that of line ${before.line}` };
  }
  if (options.format === "MA" && first < 0) return { line, field: "magnitude", says: `${parts[1]} is below 0` };
  return { line, frequencyHz, reflection: reflectionOf(options.format, first, second) };
}

function columnNames(format: string): readonly string[] {
  return ["frequency", ...(format === "RI" ? ["real part", "imaginary part"] : ["magnitude", "angle"])];
}

function reflectionOf(format: string, first: number, second: number): Complex {
  if (format === "RI") return { re: first, im: second };
  const size = format === "DB" ? 10 ** (first / 20) : first;
  const angle = (second * Math.PI) / 180;
  return { re: size * Math.cos(angle), im: size * Math.sin(angle) };
}
