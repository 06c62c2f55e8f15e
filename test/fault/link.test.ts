/** Every single damage to a short stream, one after the other: no frame but the damaged one is lost, none is invented. */
import { describe, expect, it } from "vitest";
import { formatHex } from "../../protocol/bytes/hex.ts";
import { Deframer, encodeFrame } from "../../protocol/link/framing.ts";

const bodies = [Uint8Array.of(0x80, 0, 0, 1, 0, 255), Uint8Array.of(0, 0, 7, 0), Uint8Array.of(3, 2, 1, 1, 1)];
const frames = bodies.map(encodeFrame);
const stream = frames.flatMap((frame) => [...frame]);
const ends = frames.map((_, i) => frames.slice(0, i + 1).reduce((sum, frame) => sum + frame.length, 0));
const texts = bodies.map((body) => formatHex(body));

/** Which frame byte `at` of the stream belongs to. */
const owner = (at: number) => ends.findIndex((end) => at < end);

function found(damaged: readonly number[]): { bodies: string[]; faults: number } {
  const deframer = new Deframer();
  const seen: string[] = [];
  const take = (chunk: Uint8Array) => {
    deframer.push(
      chunk,
      (body) => seen.push(formatHex(body)),
      () => undefined,
    );
  };
  take(Uint8Array.from(damaged));
  deframer.end(() => undefined);
  return { bodies: seen, faults: deframer.counts.faults };
}

/** The frames other than those touched all come, in order; nothing else does. */
function expectLost(damaged: readonly number[], touched: readonly number[], what: string, noticed = true): void {
  const { bodies: seen, faults } = found(damaged);
  const kept = texts.filter((_, i) => !touched.includes(i));
  const lostOnes = texts.filter((_, i) => touched.includes(i));
  expect(
    seen.filter((text) => !lostOnes.includes(text)),
    what,
  ).toEqual(kept);
  if (noticed && seen.length < texts.length) expect(faults, what).toBeGreaterThan(0);
}

describe("damage to a link stream", () => {
  it("every byte replaced by every other value", () => {
    for (let at = 0; at < stream.length; at++) {
      for (let value = 0; value < 256; value++) {
        if (value === stream[at]) continue;
        const damaged = [...stream.slice(0, at), value, ...stream.slice(at + 1)];
        expectLost(damaged, [owner(at)], `byte ${at} to ${value}`);
        expect(found(damaged).bodies, `byte ${at} to ${value}`).not.toContain(texts[owner(at)]);
      }
    }
  });

  it("every run of bytes left out", () => {
    for (let from = 0; from < stream.length; from++) {
      for (let to = from + 1; to <= stream.length; to++) {
        const touched = [0, 1, 2].filter((i) => from < ends[i]! && to > (ends[i - 1] ?? 0));
        // Whole frames that never came leave nothing to notice, and a delimiter alone is filling.
        const between = [0, ...ends].includes(from) && (ends.includes(to) || ends.includes(to + 1));
        const noticed = !between && !(ends.includes(from + 1) && ends.includes(to + 1));
        const damaged = [...stream.slice(0, from), ...stream.slice(to)];
        expectLost(damaged, touched, `bytes ${from} to ${to - 1} left out`, noticed);
      }
    }
  });

  it("every byte value put in at every place", () => {
    for (let at = 0; at <= stream.length; at++) {
      const inside = at > 0 && at < stream.length && !ends.includes(at) ? [owner(at)] : [];
      for (let value = 0; value < 256; value++) {
        const damaged = [...stream.slice(0, at), value, ...stream.slice(at)];
        expectLost(damaged, inside, `${value} put in before byte ${at}`);
      }
    }
  });
});
