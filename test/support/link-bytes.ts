/**
 * Messages of the link written by hand from protocol/LINK.md and the memory map's records, and frames of them with a bitwise
 * CRC and the byte stuffing of Cheshire and Baker (1999): no encoder under test has a part in them.
 */

/** A record of a JSON Lines capture, as it stands in the file. */
export type CaptureRecord = Record<string, unknown>;

const RESULTS: Record<string, number> = { done: 0, not_asked: 1, tag_lost: 60, tag_memory_overrun: 61 };
const BANKS = ["reserved", "epc", "tid", "user"];

/** Body of the message that brings a read or ambient record. */
export function reportBody(record: CaptureRecord): Uint8Array {
  const n = (name: string) => record[name] as number;
  if (record.record === "ambient") {
    const temperature = record.temperature_cel === null ? -32_768 : Math.round(n("temperature_cel") * 100);
    return Uint8Array.from([
      0x82,
      0,
      0,
      ...big(n("kit_time_us"), 8),
      ...big(n("pressure_raw"), 4),
      ...big(temperature, 2),
    ]);
  }
  const [epc, words] = [hex(record.epc as string), hex(record.words as string)];
  const rssi = record.rssi_dbm === null ? -32_768 : Math.round(n("rssi_dbm") * 10);
  return Uint8Array.from([
    ...[0x80, 0, 0, ...big(n("kit_time_us"), 8)],
    ...[...hex(record.pc as string), ...hex(record.xpc as string)],
    ...[...big(rssi, 2), ...big(n("frequency_khz"), 4)],
    ...[RESULTS[record.result as string]!, BANKS.indexOf(record.bank as string)],
    ...[...big(n("word"), 2), words.length / 2, epc.length / 2, ...epc, ...words],
  ]);
}

/** Body of the kit's answer to hello: version 1, one request at once, a barometer, 0 to 30 dBm. */
export function welcomeBody(barometerUncertaintyPa: number): Uint8Array {
  return Uint8Array.from([
    0x41,
    0,
    1,
    1,
    1,
    0,
    4,
    ...big(0, 2),
    ...big(3000, 2),
    ...big(barometerUncertaintyPa, 2),
    ...big(0, 8),
  ]);
}

/** The frame of a body: body and CRC-32 of it, stuffed, and a zero. */
export function frameOf(body: Uint8Array): Uint8Array {
  const plain = [...body, ...big(crc32(body), 4)];
  const out: number[] = [];
  let run: number[] = [];
  for (const byte of [...plain, 0]) {
    if (byte !== 0) run.push(byte);
    if (byte === 0 || run.length === 254) {
      out.push(byte === 0 ? run.length + 1 : 255, ...run);
      run = [];
    }
  }
  return Uint8Array.from([...out, 0]);
}

/** CRC-32/ISO-HDLC bit by bit: 04C11DB7h reflected, all ones before and after. */
function crc32(bytes: Uint8Array): number {
  let register = 0xffff_ffff;
  for (const byte of bytes) {
    register ^= byte;
    for (let bit = 0; bit < 8; bit++) register = (register >>> 1) ^ (register & 1 ? 0xedb8_8320 : 0);
  }
  return (register ^ 0xffff_ffff) >>> 0;
}

function big(value: number, bytes: number): number[] {
  const positive = value < 0 ? value + 256 ** bytes : value;
  return Array.from({ length: bytes }, (_, i) => Math.floor(positive / 256 ** (bytes - 1 - i)) % 256);
}

function hex(text: string): number[] {
  return (text.match(/../g) ?? []).map((digits) => Number.parseInt(digits, 16));
}
