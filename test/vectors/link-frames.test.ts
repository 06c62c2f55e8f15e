import { describe, expect, it } from "vitest";
import { formatHex } from "../../protocol/bytes/hex.ts";
import { Deframer, encodeFrame } from "../../protocol/link/framing.ts";
import type { Fault } from "../../protocol/model/reasons.ts";
import { bytesOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly flags: readonly string[];
  readonly wire: string;
  readonly chunks?: readonly number[];
  readonly repaired?: string;
}

interface Found {
  readonly bodies: readonly string[];
  readonly faults: readonly { readonly reason: string; readonly byte: number }[];
}

const { good, bad } = vectorsOf<Given, Found, Found>("link-frames.json");

/** Everything found in a stream that arrives in these chunks and then ends. */
function takeApart(wire: Uint8Array, chunks: readonly number[]): Found {
  const deframer = new Deframer();
  const bodies: string[] = [];
  const faults: Found["faults"][number][] = [];
  const onFault = ({ code, byte }: Fault) => void faults.push({ reason: code, byte });
  let at = 0;
  for (const length of chunks) {
    deframer.push(wire.subarray(at, (at += length)), (body) => void bodies.push(formatHex(body)), onFault);
  }
  expect(at).toBe(wire.length);
  deframer.end(onFault);
  return { bodies, faults };
}

describe("link-frames.json", () => {
  it.each([...good, ...bad])("$id", ({ given, expected }) => {
    const wire = bytesOf(given.wire);
    const asked = { bodies: expected.bodies, faults: expected.faults };
    expect(takeApart(wire, given.chunks ?? [wire.length])).toEqual(asked);
    expect(takeApart(wire, new Array(wire.length).fill(1))).toEqual(asked);
  });

  const single = good.filter(
    ({ given: { flags }, expected }) => expected.bodies.length === 1 && !flags.includes("PaperEnding"),
  );
  it.each(single)("$id encodes", ({ given, expected }) => {
    expect(formatHex(encodeFrame(bytesOf(expected.bodies[0]!)))).toBe(given.wire);
  });

  it.each(bad.filter(({ given }) => given.repaired !== undefined))(
    "$id has no fault without its damage",
    ({ given }) => {
      const wire = bytesOf(given.repaired!);
      expect(takeApart(wire, [wire.length]).faults).toEqual([]);
    },
  );
});
