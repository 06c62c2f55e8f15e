/**
 * A capture as pcapng, little-endian: a section for each capture header, in whose comment the header stands as the JSON line
 * it is in a JSON Lines capture; one interface; one packet for each report, whose bytes are the link's message.
 */
import { formatFingerprint, type Layout } from "../../protocol/index.ts";
import { headerLine } from "./capture-writer.ts";
import type { CaptureHeader } from "./item.ts";
import {
  BYTE_ORDER_MAGIC,
  COMMENT,
  END_OF_OPTIONS,
  ENHANCED_PACKET,
  INBOUND,
  INTERFACE,
  INTERFACE_DESCRIPTION,
  INTERFACE_NAME,
  LEAST_BLOCK,
  LINK_TYPE,
  MAJOR_VERSION,
  PACKET_FLAGS,
  padded,
  SECTION,
  SECTION_APPLICATION,
  TIME_RESOLUTION,
} from "./pcapng-format.ts";

type Option = readonly [code: number, value: Uint8Array];

/** Longest value an option can have. */
const MOST_IN_OPTION = 0xffff;

const encoder = new TextEncoder();

/**
 * Section header and interface of what follows. Without a header (a capture that had none) the comment is left out.
 * Throws a RangeError for a header that is too long for a comment.
 */
export function sectionBlocks(layout: Layout, header: CaptureHeader | null): Uint8Array {
  const section = new Uint8Array(16);
  const view = new DataView(section.buffer);
  view.setUint32(0, BYTE_ORDER_MAGIC, true);
  view.setUint16(4, MAJOR_VERSION, true);
  // The length of the section is left open: it is not known before its end.
  view.setBigInt64(8, -1n, true);
  const about: Option[] = header === null ? [] : [[COMMENT, encoder.encode(headerLine(header).trimEnd())]];
  about.push([SECTION_APPLICATION, encoder.encode("plyframe")]);

  const link = new Uint8Array(8);
  new DataView(link.buffer).setUint16(0, LINK_TYPE, true);
  const specification = formatFingerprint(layout.fingerprint);
  const says = `link messages of a reader kit, layout ${layout.layout}, specification ${specification}`;
  const place: Option[] = header === null ? [] : [[INTERFACE_NAME, encoder.encode(header.source)]];
  place.push([INTERFACE_DESCRIPTION, encoder.encode(says)], [TIME_RESOLUTION, Uint8Array.of(6)]);
  return joined([block(SECTION, section, about), block(INTERFACE, link, place)]);
}

/** A message to the host, at `utcUs` microseconds since 1970. */
export function packetBlock(utcUs: number, message: Uint8Array): Uint8Array {
  const body = new Uint8Array(20 + padded(message.length));
  const view = new DataView(body.buffer);
  view.setUint32(4, Math.floor(utcUs / 2 ** 32), true);
  view.setUint32(8, utcUs >>> 0, true);
  view.setUint32(12, message.length, true);
  view.setUint32(16, message.length, true);
  body.set(message, 20);
  return block(ENHANCED_PACKET, body, [[PACKET_FLAGS, Uint8Array.of(INBOUND, 0, 0, 0)]]);
}

function block(type: number, body: Uint8Array, options: readonly Option[]): Uint8Array {
  const tail = optionBytes(options);
  const length = LEAST_BLOCK + body.length + tail.length;
  const bytes = new Uint8Array(length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, type, true);
  view.setUint32(4, length, true);
  bytes.set(body, 8);
  bytes.set(tail, 8 + body.length);
  view.setUint32(length - 4, length, true);
  return bytes;
}

function optionBytes(options: readonly Option[]): Uint8Array {
  const parts = options.map(([code, value]) => {
    if (value.length > MOST_IN_OPTION) throw new RangeError(`an option of pcapng has ${MOST_IN_OPTION} bytes at most`);
    const bytes = new Uint8Array(4 + padded(value.length));
    const view = new DataView(bytes.buffer);
    view.setUint16(0, code, true);
    view.setUint16(2, value.length, true);
    bytes.set(value, 4);
    return bytes;
  });
  return joined([...parts, Uint8Array.of(END_OF_OPTIONS, 0, 0, 0)]);
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
