/** Messages of the link as bodies of frames: an envelope, then the payload record the message names. */

import { encode, isFault, type RawValues } from "../codec/encode.ts";
import { type DecodedRecord, decode, rawOf } from "../codec/record.ts";
import { type CompiledRecord, type Layout, recordOf } from "../model/layout.ts";
import type { Fault } from "../model/reasons.ts";
import type { MessageSpec } from "../model/vocabulary.ts";

export type Direction = MessageSpec["direction"];

/** A body taken apart. */
export interface Message {
  readonly message: MessageSpec;
  readonly request: number;
  readonly content: DecodedRecord;
}

interface Known {
  readonly message: MessageSpec;
  readonly record: CompiledRecord;
}

interface Directory {
  readonly envelope: CompiledRecord;
  readonly known: readonly Known[];
}

const directories = new WeakMap<Layout, Directory>();

function directoryOf(layout: Layout): Directory {
  let directory = directories.get(layout);
  if (!directory) {
    const known = layout.messages.map((message) => ({ message, record: recordOf(layout, message.record) }));
    directories.set(layout, (directory = { envelope: recordOf(layout, "envelope"), known }));
  }
  return directory;
}

/**
 * Body of a message, or the fault of the first value that cannot be sent. Request ids are 0 to 65535.
 * Throws for a message the layout does not have in that direction, which is a programming error.
 */
export function encodeMessage(
  layout: Layout,
  id: string,
  direction: Direction,
  request: number,
  values: RawValues = {},
  tails: { readonly [id: string]: ArrayLike<number> } = {},
): Uint8Array | Fault {
  const { envelope, known } = directoryOf(layout);
  const found = known.find(({ message }) => message.id === id && message.direction === direction);
  if (!found) throw new Error(`layout ${layout.layout} has no message ${id} ${direction}`);
  const head = encode(envelope, { type: found.message.code, request });
  if (isFault(head)) return head;
  const payload = encode(found.record, values, tails);
  if (isFault(payload)) return { ...payload, byte: payload.byte + head.length };
  const body = new Uint8Array(head.length + payload.length);
  body.set(head);
  body.set(payload, head.length);
  return body;
}

/** The message in a body, or why it is none; a fault's byte is counted from the body's first byte. */
export function decodeMessage(layout: Layout, body: Uint8Array, direction: Direction): Message | Fault {
  const { envelope, known } = directoryOf(layout);
  const head = decode(envelope, body, 0, Math.min(body.length, envelope.bytes));
  if (isFault(head)) return head;
  const type = rawOf(head, "type");
  const found = known.find(({ message }) => message.code === type && message.direction === direction);
  if (!found) {
    const actual = `0x${type.toString(16).padStart(2, "0")}`;
    return {
      code: "message-unknown",
      byte: 0,
      bit: 0,
      path: "envelope.type",
      expected: `a message ${direction}`,
      actual,
    };
  }
  const content = decode(found.record, body, envelope.bytes);
  if (isFault(content)) return { ...content, byte: content.byte + envelope.bytes };
  return { message: found.message, request: rawOf(head, "request"), content };
}
