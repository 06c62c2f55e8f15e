/** The rival: what one would write in an afternoon with binary-parser and crc, before anything else existed. */
import { Parser } from "binary-parser";
import { crc16ccitt } from "crc";

const chain = new Parser()
  .endianness("big")
  .bit4("kind")
  .bit4("layout")
  .bit8("status")
  .uint16("sequence")
  .uint8("reserved")
  .bit24("pressure")
  .int16("temperature")
  .bit12("supply")
  .bit20("uptime")
  .uint16("seal");

export interface NaiveFrame {
  readonly kind: number;
  readonly layout: number;
  readonly status: number;
  readonly sequence: number;
  readonly pressure: number;
  readonly temperature: number;
  readonly supply: number;
  readonly uptime: number;
  readonly seal: number;
}

/** A frame of 16 bytes, or null when its seal is wrong. */
export function decodeNaively(bytes: Uint8Array): NaiveFrame | null {
  const frame = chain.parse(bytes) as NaiveFrame;
  return crc16ccitt(Buffer.from(bytes.buffer, bytes.byteOffset, 14), 0x504c) === frame.seal ? frame : null;
}
