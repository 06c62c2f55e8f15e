/** Old records made for a new one so that a mix of the two passes for whole: what chance does once in 65536 mixes. */
import { Random } from "../../sim/random.ts";
import { burstOf, countersOf, frameOf } from "./images.ts";
import { type RecordId, rawsIn } from "./life.ts";

/** A word of the old record that may take any of `below` values from what it is upwards. */
interface Free {
  readonly word: number;
  readonly below: number;
}

const TRIES = 3_000_000;

/** The seal bit by bit: x^16 + x^12 + x^5 + 1, preset 504Ch, no final XOR (protocol/SEAL.md). */
function sealOf(words: readonly number[]): number {
  let register = 0x504c;
  for (let i = 0; i < words.length - 1; i++) {
    register ^= words[i]!;
    for (let bit = 0; bit < 16; bit++) register = ((register << 1) ^ (register & 0x8000 ? 0x1021 : 0)) & 0xffff;
  }
  return register;
}

/**
 * The first old record with which the mix - its words, but those of `fresh` at the places in `mix` - passes the
 * specification's decoder, though it is neither of the two. Throws when none is found.
 */
function search(
  kind: RecordId,
  base: readonly number[],
  free: readonly Free[],
  fresh: readonly number[],
  mix: readonly number[],
  matters: (mixed: Readonly<Record<string, number>>) => boolean = () => true,
): number[] {
  const random = new Random(1, `matching ${kind} ${mix.join()}`);
  const old = [...base];
  const seal = base.length - 1;
  for (let i = 0; i < TRIES; i++) {
    for (const { word, below } of free) old[word] = base[word]! + Math.floor(random.fraction() * below);
    old[seal] = sealOf(old);
    const mixed = old.map((word, at) => (mix.includes(at) ? fresh[at]! : word));
    if (sealOf(mixed) !== mixed[seal] || mixed.join() === fresh.join() || mixed.join() === old.join()) continue;
    const raws = rawsIn(kind, mixed);
    if (raws && matters(raws) && rawsIn(kind, old)) return old;
  }
  throw new Error(`no old ${kind} makes the mix ${mix.join()} pass`);
}

/** Makers of old records, each older than the new one it is made for. */
export const matching = {
  frame: (fresh: readonly number[], mix: readonly number[]) =>
    search(
      "frame",
      frameOf(500, { pressure: 196 * 65_536, temperature: 2000, supply: 2048, uptime: 0 }),
      [
        { word: 3, below: 65_536 },
        { word: 4, below: 1000 },
        { word: 6, below: 65_536 },
      ],
      fresh,
      mix,
    ),
  /** The mix is also the newest of all, so that a reader would take it. */
  counters: (fresh: readonly number[], mix: readonly number[]) => {
    const newest = rawsIn("counters", fresh)!;
    const highWord = mix.includes(1) ? 0 : 65_536;
    return search(
      "counters",
      countersOf({ cold_starts: highWord, frames: 13 * 65_536, brown_outs: 1, fruitless_starts: 1 }),
      [
        { word: 2, below: highWord === 0 ? 65_536 : newest.cold_starts! - highWord },
        { word: 4, below: 9000 },
        { word: 6, below: 48_000 },
      ],
      fresh,
      mix,
      (mixed) => mixed.cold_starts! >= newest.cold_starts!,
    );
  },
  burst: (fresh: readonly number[], mix: readonly number[]) =>
    search(
      "burst",
      burstOf(Array.from({ length: 25 }, (_, i) => 20 * i)),
      [
        { word: 7, below: 9000 },
        { word: 8, below: 9000 },
        { word: 30, below: 9000 },
      ],
      fresh,
      mix,
    ),
};
