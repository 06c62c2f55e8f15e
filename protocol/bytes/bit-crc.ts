/**
 * CRC bit by bit, most significant bit first, for strings of bits that are no whole bytes: commands and replies of the
 * Gen2 air interface. Unreflected, because the air sends the most significant bit first.
 */
export interface BitCrcParameters {
  /** 1 to 24 bits. */
  readonly width: number;
  readonly poly: number;
  readonly init: number;
  readonly xorout: number;
}

/** CRC-5 of Gen2's Query (catalogue: CRC-5/EPC-C1G2). */
export const queryCrc: BitCrcParameters = { width: 5, poly: 0x09, init: 0x09, xorout: 0 };

/** CRC-16 of Gen2 (catalogue: CRC-16/GENIBUS). */
export const airCrc: BitCrcParameters = { width: 16, poly: 0x1021, init: 0xffff, xorout: 0xffff };

/** Checksum of `bits`, each 0 or 1, an unsigned integer of the parameter's width. */
export function bitCrc(parameters: BitCrcParameters, bits: ArrayLike<number>): number {
  const { width, poly, init, xorout } = parameters;
  const mask = 2 ** width - 1;
  let register = init;
  for (let i = 0; i < bits.length; i++) {
    const feedback = (register >> (width - 1)) ^ bits[i]!;
    register = (register << 1) & mask;
    if (feedback) register ^= poly;
  }
  return register ^ xorout;
}
