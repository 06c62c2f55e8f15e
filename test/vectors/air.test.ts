import { describe, expect, it } from "vitest";
import type { Command } from "../../sim/air/command.ts";
import { decodeCommand } from "../../sim/air/decode-command.ts";
import { encodeCommand } from "../../sim/air/encode-command.ts";
import {
  decodeHandle,
  decodeIdentity,
  decodeOutcome,
  decodeRn16,
  encodeReply,
  type Reply,
} from "../../sim/air/reply.ts";
import { vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly bits: string;
  readonly repaired?: string;
}

type Fields = { readonly kind: string } & Record<string, unknown>;

const { good, bad } = vectorsOf<Given, { fields: Fields }>("air.json");
const bits = (text: string) => Array.from(text, Number);
const isReply = (id: string) => id.startsWith("air-reply-");

/** Masks and tails are strings of bits in the file. */
function valuesOf(fields: Fields): unknown {
  return Object.fromEntries(
    Object.entries(fields).map(([name, value]) => [
      name,
      typeof value === "string" && /^[01]*$/.test(value) ? bits(value) : value,
    ]),
  );
}

/** A reply by the decoder that its command calls for. */
function decoded(reply: Reply, sent: readonly number[]): unknown {
  switch (reply.kind) {
    case "rn16":
      return { kind: reply.kind, rn: decodeRn16(sent) };
    case "identity":
    case "truncated":
      return decodeIdentity(sent, reply.kind === "truncated");
    case "handle":
      return { kind: reply.kind, handle: decodeHandle(sent) };
    default:
      return decodeOutcome(sent, reply.kind === "words" ? reply.words.length : 0);
  }
}

describe("air.json", () => {
  it.each(good.filter(({ id }) => !isReply(id)))("$id", ({ id, given, expected }) => {
    const command = valuesOf(expected.fields) as Command;
    expect(decodeCommand(bits(given.bits))).toEqual(command);
    // The encoder writes the shortest pointer.
    if (id !== "air-read-long-pointer") expect(encodeCommand(command).join("")).toBe(given.bits);
  });

  it.each(good.filter(({ id }) => isReply(id)))("$id", ({ given, expected }) => {
    const reply = valuesOf(expected.fields) as Reply;
    expect(encodeReply(reply).join("")).toBe(given.bits);
    expect(decoded(reply, bits(given.bits))).toEqual(reply);
  });

  it.each(bad)("$id is no command, and without its fault it is one", ({ given }) => {
    expect(decodeCommand(bits(given.bits))).toBeNull();
    expect(decodeCommand(bits(given.repaired!))).not.toBeNull();
  });
});
