import { describe, expect, it } from "vitest";
import { formatHex } from "../../protocol/bytes/hex.ts";
import { decodeLlrp } from "../../protocol/llrp/decode.ts";
import { encodeLlrp } from "../../protocol/llrp/encode.ts";
import { bytesOf, placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly wire: string;
  readonly repaired?: string;
}

interface Message {
  readonly message: { readonly version: number; readonly id: number; readonly skipped: readonly object[] };
}

const { good, bad } = vectorsOf<Given, Message>("llrp.json");

/** As JSON has it: integers of 64 bits are text. */
function plain(value: unknown): unknown {
  return JSON.parse(JSON.stringify(value, (_, item) => (typeof item === "bigint" ? `${item}` : item)));
}

describe("llrp.json", () => {
  it.each(good)("$id", ({ given, expected }) => {
    expect(plain(decodeLlrp(bytesOf(given.wire)))).toEqual(expected.message);
  });

  it.each(good.filter(({ expected }) => expected.message.skipped.length === 0))("$id encodes", ({ given }) => {
    const message = decodeLlrp(bytesOf(given.wire));
    if ("code" in message) throw new Error(message.code);
    const wire = encodeLlrp(message, message.version, message.id);
    expect(wire instanceof Uint8Array ? formatHex(wire) : wire).toBe(given.wire);
  });

  it.each(bad)("$id", ({ given, expected }) => {
    const fault = decodeLlrp(bytesOf(given.wire));
    expect("code" in fault ? placeOf(fault) : "taken").toEqual(placeAsked(expected));
    expect(decodeLlrp(bytesOf(given.repaired!))).not.toHaveProperty("code");
  });
});
