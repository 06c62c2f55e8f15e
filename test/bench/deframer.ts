/**
 * What a byte costs the deframer, in streams of 1 kB and of 1 MB: good frames, and every kind of noise that might make it
 * look back. Run: npx tsx test/bench/deframer.ts
 */
import { Deframer, encodeFrame } from "../../protocol/link/framing.ts";

const KB = 1024;
const MB = 1024 * KB;
const ROUNDS = 7;

/** A small generator, so that every run sees the same noise. */
function random(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state >>> 24;
  };
}

const next = random(7);
const frame = encodeFrame(Uint8Array.from({ length: 88 }, next));
/** Bytes between the delimiters of the hostile streams: two stretches in the short stream, so that it looks back too. */
const STRETCH = 511;
/** Bytes before the next delimiter. */
const left = (i: number) => STRETCH - (i % (STRETCH + 1));
/** Chains that all end at the delimiter, each with the longest code that can. */
const longest = (i: number) => (left(i) === 0 ? 0 : ((left(i) - 1) % 254) + 1);

const kinds: { name: string; byte: (i: number) => number }[] = [
  { name: "frames of 88 bytes", byte: (i) => frame[i % frame.length]! },
  { name: "any bytes", byte: next },
  { name: "no delimiter", byte: () => 1 + (next() % 255) },
  { name: "delimiters only", byte: () => 0 },
  { name: "one code 01h for ever", byte: () => 1 },
  { name: "01h, a delimiter now and then", byte: (i) => (left(i) === 0 ? 0 : 1) },
  { name: "longest chains that all end", byte: longest },
];

/** Nanoseconds a byte, the best of some rounds; the same number of bytes in each, in streams of `length`. */
function cost(stream: Uint8Array, chunk: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < ROUNDS; round++) {
    const started = process.hrtime.bigint();
    for (let done = 0; done < MB; done += stream.length) {
      const deframer = new Deframer();
      for (let at = 0; at < stream.length; at += chunk) {
        deframer.push(
          stream.subarray(at, at + chunk),
          () => undefined,
          () => undefined,
        );
      }
    }
    best = Math.min(best, Number(process.hrtime.bigint() - started) / MB);
  }
  return best;
}

console.log("kind of stream                      ns/byte 1 kB   ns/byte 1 MB   ratio   1 MB, one byte a push");
for (const { name, byte } of kinds) {
  const large = Uint8Array.from({ length: MB }, (_, i) => byte(i));
  const small = cost(large.slice(0, KB), 256);
  const long = cost(large, 256);
  const single = cost(large, 1);
  const columns = [small.toFixed(2).padStart(15), long.toFixed(2).padStart(15), (long / small).toFixed(2).padStart(8)];
  console.log(`${name.padEnd(33)}${columns.join("")}${single.toFixed(1).padStart(15)}`);
}
