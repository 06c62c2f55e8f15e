import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatHex } from "../../protocol/bytes/hex.ts";
import { Deframer, encodeFrame, MAX_BODY, MAX_ENCODED } from "../../protocol/link/framing.ts";
import { earliestFrame } from "../../protocol/link/rewind.ts";
import type { Fault } from "../../protocol/model/reasons.ts";

function concat(pieces: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

function deframe(chunks: readonly Uint8Array[]) {
  const deframer = new Deframer();
  const events: (string | Fault)[] = [];
  for (const chunk of chunks) {
    deframer.push(
      chunk,
      (body) => events.push(formatHex(body)),
      (fault) => events.push(fault),
    );
  }
  deframer.end((fault) => events.push(fault));
  return { events, counts: deframer.counts, bodies: events.filter((event) => typeof event === "string") };
}

const body = fc.oneof(
  { weight: 4, arbitrary: fc.uint8Array({ minLength: 1, maxLength: 60 }) },
  { weight: 1, arbitrary: fc.uint8Array({ minLength: 1, maxLength: MAX_BODY, size: "max" }) },
);

/** Bytes of every kind: any, none zero, small codes whose chains end everywhere, one value over and over, long runs. */
const noise = fc.oneof(
  fc.uint8Array({ maxLength: 80 }),
  fc.uint8Array({ maxLength: 80, min: 1 }),
  fc.uint8Array({ maxLength: 80, max: 3 }),
  fc.tuple(fc.nat(255), fc.nat(3000)).map(([value, length]) => new Uint8Array(length).fill(value)),
  fc.uint8Array({ maxLength: 2 * MAX_ENCODED, min: 1, size: "max" }),
  body.map((content) => encodeFrame(content).subarray(0, -2)),
  body.map((content) => encodeFrame(content).subarray(2, -1)),
);

/** A stream cut into chunks at arbitrary places. */
const cuts = fc.array(fc.nat(400), { maxLength: 40 });

function cut(stream: Uint8Array, lengths: readonly number[]): Uint8Array[] {
  const chunks: Uint8Array[] = [];
  let at = 0;
  for (const length of lengths) {
    chunks.push(stream.subarray(at, at + length));
    at = Math.min(stream.length, at + length);
  }
  return [...chunks, stream.subarray(at)];
}

describe("link framing", () => {
  it("gives every body back, however the stream is cut", () => {
    fc.assert(
      fc.property(fc.array(body, { maxLength: 6 }), cuts, (bodies, lengths) => {
        const { events, counts } = deframe(cut(concat(bodies.map(encodeFrame)), lengths));
        expect(events).toEqual(bodies.map((content) => formatHex(content)));
        expect(counts).toMatchObject({ frames: bodies.length, faults: 0, discarded: 0, pending: 0 });
      }),
    );
  });

  it("loses no frame to noise that does not touch it", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(noise, body), { minLength: 1, maxLength: 5 }),
        noise,
        cuts,
        (pairs, last, lengths) => {
          const stream = concat([...pairs.flatMap(([before, content]) => [before, encodeFrame(content)]), last]);
          const { bodies } = deframe(cut(stream, lengths));
          expect(bodies).toEqual(pairs.map(([, content]) => formatHex(content)));
        },
      ),
      { numRuns: 400 },
    );
  });

  it("gives the same bodies, faults and counts for any split of any bytes, and accounts for every byte", () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(noise, body.map(encodeFrame)), { maxLength: 6 }), cuts, (pieces, lengths) => {
        const stream = concat(pieces);
        const whole = deframe([stream]);
        expect(deframe(cut(stream, lengths))).toEqual(whole);
        const { received, framed, discarded, idle, pending, frames, faults } = whole.counts;
        expect(received).toBe(stream.length);
        expect(framed + discarded + idle + pending).toBe(received);
        expect(frames).toBe(whole.bodies.length);
        expect(faults).toBe(whole.events.length - whole.bodies.length);
        expect(faults === 0).toBe(discarded === 0);
      }),
      { numRuns: 400 },
    );
  });

  it("loses at most the frames that damage touches", () => {
    const damage = fc.record({
      at: fc.nat(),
      length: fc.integer({ min: 1, max: 30 }),
      bytes: fc.uint8Array({ maxLength: 40 }),
    });
    fc.assert(
      fc.property(fc.array(body, { minLength: 1, maxLength: 6 }), damage, (bodies, { at, length, bytes }) => {
        const frames = bodies.map(encodeFrame);
        const stream = concat(frames);
        const from = at % stream.length;
        const to = Math.min(stream.length, from + length);
        let start = 0;
        const untouched = bodies.filter((_, i) => {
          const end = start + frames[i]!.length;
          const touched = from < end && to > start;
          start = end;
          return !touched;
        });
        const found = deframe([stream.subarray(0, from), bytes, stream.subarray(to)]).bodies;
        const wanted = untouched.map((content) => formatHex(content));
        const all = bodies.map((content) => formatHex(content));
        expect(found.filter((content) => !all.includes(content as string))).toEqual([]);
        let next = 0;
        for (const content of found) if (content === wanted[next]) next++;
        expect(next).toBe(wanted.length);
      }),
      { numRuns: 400 },
    );
  });
});

describe("earliestFrame", () => {
  /** The same question answered the long way: every start on its own, by the rules of the framing. */
  function tryEveryStart(bytes: Uint8Array): number {
    for (let start = 0; start < bytes.length; start++) {
      const whole = deframe([bytes.subarray(start), Uint8Array.of(0)]);
      if (whole.counts.frames === 1 && whole.counts.discarded === 0) return start;
    }
    return -1;
  }

  it("finds what trying every start finds", () => {
    const chunk = fc
      .tuple(fc.uint8Array({ min: 1, maxLength: 20 }), fc.uint8Array({ minLength: 1, maxLength: 20 }), fc.boolean())
      .map(([before, content, damaged]) => {
        const frame = encodeFrame(content).subarray(0, -1);
        const bytes = concat([before, frame]);
        if (damaged) bytes[bytes.length - 1] = (bytes[bytes.length - 1]! % 255) + 1;
        return bytes;
      });
    fc.assert(
      fc.property(chunk, (bytes) => {
        expect(earliestFrame(bytes, 0, bytes.length, MAX_BODY)).toBe(tryEveryStart(bytes));
      }),
      { numRuns: 300 },
    );
  });

  it("looks no further back than it is told to", () => {
    const bytes = concat([Uint8Array.of(1, 2, 3), encodeFrame(Uint8Array.of(1)).subarray(0, -1)]);
    expect(earliestFrame(bytes, 0, bytes.length, MAX_BODY)).toBe(3);
    expect(earliestFrame(bytes, 4, bytes.length, MAX_BODY)).toBe(-1);
  });

  it("takes no frame without a body and none with a longer body than it is told", () => {
    // Four zeros are the checksum of nothing; stuffed they are five codes of 01h.
    expect(earliestFrame(new Uint8Array(5).fill(1), 0, 5, MAX_BODY)).toBe(-1);
    const frame = encodeFrame(new Uint8Array(20)).subarray(0, -1);
    expect(earliestFrame(frame, 0, frame.length, 20)).toBe(0);
    expect(earliestFrame(frame, 0, frame.length, 19)).toBe(-1);
  });
});
