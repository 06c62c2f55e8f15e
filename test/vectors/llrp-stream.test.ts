import { describe, expect, it } from "vitest";
import { LlrpStream } from "../../protocol/llrp/stream.ts";
import { bytesOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly wire: string;
  readonly chunks?: readonly number[];
  readonly repaired?: string;
}

interface Found {
  readonly messages: readonly { readonly name: string; readonly id: number; readonly byte: number }[];
  readonly faults: readonly { readonly reason: string; readonly byte: number }[];
}

const { good, bad } = vectorsOf<Given, Found, Found>("llrp-stream.json");

/** Everything found in a stream that arrives in these chunks and then ends. */
function takeApart(wire: Uint8Array, chunks: readonly number[]): Found {
  const messages: Found["messages"][number][] = [];
  const faults: Found["faults"][number][] = [];
  const stream = new LlrpStream({
    onMessage: ({ name, id }, { byte }) => void messages.push({ name, id, byte }),
    onFault: ({ code, byte }) => void faults.push({ reason: code, byte }),
  });
  let at = 0;
  for (const length of chunks) stream.push(wire.subarray(at, (at += length)));
  expect(at).toBe(wire.length);
  stream.end();
  return { messages, faults };
}

describe("llrp-stream.json", () => {
  it.each([...good, ...bad])("$id", ({ given, expected: { messages, faults } }) => {
    const wire = bytesOf(given.wire);
    expect(takeApart(wire, given.chunks ?? [wire.length])).toEqual({ messages, faults });
    expect(takeApart(wire, new Array(wire.length).fill(1))).toEqual({ messages, faults });
  });

  it.each(bad)("$id has no fault without its damage", ({ given }) => {
    const wire = bytesOf(given.repaired!);
    expect(takeApart(wire, [wire.length]).faults).toEqual([]);
  });
});
