/** The first two words of the EPC bank, by GS1 EPC Gen2. */
import { makeChecksum } from "../bytes/crc.ts";
import { checksums } from "../model/checksums.ts";

const airCrc = makeChecksum(checksums.air);

/** Words of EPC that a PC word announces: its five most significant bits. */
export function epcWordCount(pc: number): number {
  return pc >> 11;
}

/** StoredCRC of a tag: CRC-16 over StoredPC and the words of its EPC, big-endian. */
export function storedCrc(pc: number, epcWords: readonly number[]): number {
  const bytes = [pc, ...epcWords].flatMap((word) => [word >> 8, word & 0xff]);
  return airCrc(bytes, 0, bytes.length);
}
