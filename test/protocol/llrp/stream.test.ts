import { describe, expect, it } from "vitest";
import { MAX_MESSAGE } from "../../../protocol/llrp/header.ts";
import { LlrpStream } from "../../../protocol/llrp/stream.ts";
import { bytesOf } from "../../support/vectors.ts";

/** KEEPALIVE 200, and SET_READER_CONFIG_RESPONSE with success. */
const KEEPALIVE = bytesOf("043e0000000a000000c8");
const ANSWER = bytesOf("040d0000001200000002011f000800000000");

function open() {
  const heard: string[] = [];
  const stream = new LlrpStream({
    onMessage: ({ name }, { byte }) => void heard.push(`${byte} ${name}`),
    onFault: ({ code, byte }) => void heard.push(`${byte} ${code}`),
  });
  return { heard, stream };
}

describe("a stream of LLRP", () => {
  it.each([1, 3, 7, 10, 11, 28, 1000])("comes in pieces of %i bytes", (size) => {
    const { heard, stream } = open();
    const all = Buffer.concat([KEEPALIVE, ANSWER, KEEPALIVE]);
    for (let at = 0; at < all.length; at += size) stream.push(all.subarray(at, at + size));
    stream.end();
    expect(heard).toEqual(["0 KEEPALIVE", "10 SET_READER_CONFIG_RESPONSE", "28 KEEPALIVE"]);
    expect(stream.counts).toMatchObject({
      messages: 3,
      faults: 0,
      received: all.length,
      taken: all.length,
      pending: 0,
    });
  });

  it("passes over a message it cannot read by its length, and names the byte", () => {
    const { heard, stream } = open();
    const lie = Uint8Array.from(ANSWER);
    lie[13] = 9;
    stream.push(Buffer.concat([KEEPALIVE, lie, KEEPALIVE]));
    expect(heard).toEqual(["0 KEEPALIVE", "22 llrp-length-invalid", "28 KEEPALIVE"]);
    expect(stream.counts).toMatchObject({ messages: 2, faults: 1, taken: 20, refused: 18, discarded: 0 });
  });

  it("is lost behind a length that cannot be, and counts every byte of the rest", () => {
    const { heard, stream } = open();
    const lie = Uint8Array.from(KEEPALIVE);
    new DataView(lie.buffer).setUint32(2, MAX_MESSAGE + 1);
    stream.push(Buffer.concat([ANSWER, lie, KEEPALIVE]));
    stream.push(KEEPALIVE);
    stream.end();
    expect(heard).toEqual(["0 SET_READER_CONFIG_RESPONSE", "20 llrp-length-invalid"]);
    expect(stream.lost).toBe(true);
    expect(stream.counts).toMatchObject({ received: 48, taken: 18, discarded: 30, pending: 0 });
  });

  it("that ends inside a message says so", () => {
    const { heard, stream } = open();
    stream.push(Buffer.concat([KEEPALIVE, ANSWER.subarray(0, 12)]));
    stream.end();
    expect(heard).toEqual(["0 KEEPALIVE", "22 record-too-short"]);
  });

  it.each([
    [7, "10 bytes of a header"],
    [12, "18 bytes"],
  ])("that ends after %i bytes of a message says what was missing", (length, expected) => {
    const faults: unknown[] = [];
    const stream = new LlrpStream({ onMessage: () => undefined, onFault: (...words) => void faults.push(words) });
    stream.push(ANSWER.subarray(0, length));
    stream.end();
    const fault = { code: "record-too-short", byte: length, bit: null, path: "stream" };
    expect(faults).toEqual([[{ ...fault, expected, actual: `${length} bytes` }, null]]);
  });

  it("holds no more of a long message than came", () => {
    const { stream } = open();
    const long = bytesOf("043d0004000000000001");
    stream.push(long);
    expect(stream.counts).toMatchObject({ received: 10, pending: 10, faults: 0 });
  });
});
