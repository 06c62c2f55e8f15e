/** The link's error message: how a kit says why it cannot serve a body, and what the host makes of it. */
import { isFault } from "../codec/encode.ts";
import { type DecodedRecord, rawOf } from "../codec/record.ts";
import type { Layout } from "../model/layout.ts";
import { type Fault, reasonByNumber, reasons } from "../model/reasons.ts";
import { encodeMessage } from "./message.ts";

/** Body of the error that answers `body`, whole or not: its type and request id are repeated as far as they arrived. */
export function refuse(layout: Layout, body: Uint8Array, fault: Fault): Uint8Array {
  const request = body.length < 3 ? 0 : body[1]! * 256 + body[2]!;
  const values = { reason: reasons[fault.code].number, about: body[0] ?? 0, byte: Math.min(fault.byte, 0xffff) };
  const answer = encodeMessage(layout, "error", "to-host", request, values);
  if (isFault(answer)) throw new Error(`an error message cannot be refused: ${answer.path}`);
  return answer;
}

/** The fault an error message tells of; its path names the message it is about. A number in no list is itself a fault. */
export function refusalOf(layout: Layout, error: DecodedRecord): Fault {
  const about = rawOf(error, "about");
  const reason = rawOf(error, "reason");
  const name = layout.messages.find(({ code, direction }) => code === about && direction === "to-kit")?.id;
  const path = name ?? `message_0x${about.toString(16).padStart(2, "0")}`;
  const code = reasonByNumber(reason);
  const place = { byte: rawOf(error, "byte"), bit: null, path };
  if (code) return { code, ...place, expected: "a request the kit can serve", actual: "a refusal" };
  return { code: "name-unknown", ...place, expected: "the number of a reason code", actual: `${reason}` };
}
