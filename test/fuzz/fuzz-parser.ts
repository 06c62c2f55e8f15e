/** What is fuzzed: a parser that takes a file of bytes in pieces and says all it made of it. */

export interface Outcome {
  /** Everything that came out, as text; what does not hang on how the bytes were cut. */
  readonly said: string;
  /** Promises about the bytes that were not kept, in words. */
  readonly broken: readonly string[];
}

export interface FuzzParser {
  readonly name: string;
  /** Good inputs to begin with. */
  readonly seeds: () => readonly Uint8Array[];
  /** Throws only for what is a finding: declared errors are part of what it said. */
  readonly run: (pieces: readonly Uint8Array[]) => Promise<Outcome>;
}

/** Text of a value, bytes as hex and big integers with their sign. */
export function textOf(value: unknown): string {
  return JSON.stringify(value, (_, member) => {
    if (member instanceof Uint8Array) return Buffer.from(member).toString("hex");
    return typeof member === "bigint" ? `${member}n` : member;
  });
}

/** Sentences of those equations that do not hold. */
export function unequal(...equations: readonly [what: string, a: number | string, b: number | string][]): string[] {
  return equations.filter(([, a, b]) => a !== b).map(([what, a, b]) => `${what}: ${cut(a)} and ${cut(b)}`);
}

function cut(value: number | string): string {
  return `${value}`.slice(0, 120);
}
