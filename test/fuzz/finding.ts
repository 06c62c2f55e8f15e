/** An input on which a parser breaks a promise, and the smallest part of it that still does. */
import type { FuzzParser } from "./fuzz-parser.ts";

export type Promised = "declared-errors" | "steady" | "chunks" | "account" | "bounded";

export interface Finding {
  readonly promise: Promised;
  readonly says: string;
}

/** Characters that may come out for each byte that went in, and for none: a rejected line is given back, quoted and explained. */
const MOST_PER_BYTE = 600;
const MOST_BESIDE = 20_000;

/** The first promise that `bytes`, whole and in `pieces`, break; null when all are kept. */
export async function findingOf(
  parser: FuzzParser,
  bytes: Uint8Array,
  pieces: readonly Uint8Array[],
): Promise<Finding | null> {
  try {
    const whole = await parser.run([bytes]);
    if (whole.broken.length > 0) return { promise: "account", says: whole.broken.join("; ") };
    if (whole.said.length > MOST_BESIDE + MOST_PER_BYTE * bytes.length) {
      return { promise: "bounded", says: `${whole.said.length} characters out of ${bytes.length} bytes` };
    }
    if ((await parser.run([bytes])).said !== whole.said) {
      return { promise: "steady", says: "the same bytes gave something else the second time" };
    }
    const cut = await parser.run(pieces);
    if (cut.broken.length > 0) return { promise: "account", says: `in pieces: ${cut.broken.join("; ")}` };
    return cut.said === whole.said ? null : { promise: "chunks", says: difference(whole.said, cut.said) };
  } catch (error) {
    return { promise: "declared-errors", says: error instanceof Error ? `${error.stack}` : `threw ${error}` };
  }
}

function difference(a: string, b: string): string {
  let at = 0;
  while (a[at] === b[at]) at++;
  return `whole "${a.slice(at, at + 80)}", in pieces "${b.slice(at, at + 80)}"`;
}

/** Most tries of one minimisation. */
const MOST_TRIES = 3000;

/** The bytes with runs left out as long as the same promise stays broken; byte by byte where the bytes are cut. */
export async function minimised(parser: FuzzParser, bytes: Uint8Array, { promise }: Finding): Promise<Uint8Array> {
  const singly = (all: Uint8Array) => Array.from(all, (byte) => Uint8Array.of(byte));
  const stillBroken = async (all: Uint8Array) => (await findingOf(parser, all, singly(all)))?.promise === promise;
  let least = bytes;
  if (!(await stillBroken(least))) return least;
  let tries = 0;
  for (let size = Math.ceil(least.length / 2); size >= 1; size = size > 1 ? Math.ceil(size / 2) : 0) {
    for (let at = 0; at < least.length && tries < MOST_TRIES; tries++) {
      const without = Uint8Array.from([...least.subarray(0, at), ...least.subarray(at + size)]);
      if (await stillBroken(without)) least = without;
      else at += size;
    }
  }
  return least;
}
