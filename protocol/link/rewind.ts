/**
 * Where a frame stands behind noise. The checksum is run backwards from the delimiter, so that all starts share the work
 * on the bytes after them: what would have to be in the register before byte i is known for every i in one pass.
 */
import { makeChecksum } from "../bytes/crc.ts";
import { checksums } from "../model/checksums.ts";

const crc32 = makeChecksum(checksums.crc32);

// One byte through the register all ones leaves 00ffffffh xor one table entry, then the final complement.
const table = Int32Array.from({ length: 256 }, (_, k) => ~crc32([k ^ 0xff], 0, 1) ^ 0x00ffffff);
// The top octet of a table entry belongs to that entry alone, which is what makes the step reversible.
const entryOf = new Uint8Array(256);
for (let k = 0; k < 256; k++) entryOf[table[k]! >>> 24] = k;

const NONE = 0xffff;

/**
 * First index in `bytes[from, to)` from which a whole frame with a body of 1 to `maxBody` bytes ends exactly at `to`;
 * -1 when there is none. The bytes hold no zero. At most 254 steps a byte, whatever the bytes are.
 */
export function earliestFrame(bytes: Uint8Array, from: number, to: number, maxBody: number): number {
  const size = to - from;
  const lengths = new Uint16Array(size).fill(NONE);
  const registers = new Int32Array(size);
  let earliest = -1;
  for (let i = to - 1; i >= from; i--) {
    const code = bytes[i]!;
    const next = i + code;
    if (next > to || (next < to && lengths[next - from] === NONE)) continue;
    let length = next === to ? 0 : lengths[next - from]!;
    let register = next === to ? 0 : registers[next - from]!;
    if (next < to && code !== 255) register = stepBack(register, length++, 0);
    for (let at = next - 1; at > i; at--) register = stepBack(register, length++, bytes[at]!);
    lengths[i - from] = length;
    registers[i - from] = register;
    if (register === -1 && length > 4 && length <= maxBody + 4) earliest = i;
  }
  return earliest;
}

/** The register before a byte, given the one after it; the last four bytes are the checksum itself, least octet last. */
function stepBack(register: number, length: number, byte: number): number {
  if (length < 3) return register | (byte << (8 * length));
  if (length === 3) return ~(register | (byte << 24));
  const k = entryOf[register >>> 24]!;
  return ((register ^ table[k]!) << 8) | (k ^ byte);
}
