/**
 * Parameters of the three checksums plyframe meets, in the terms of the CRC catalogue (width, poly, init, refin, refout, xorout).
 * Why the seal is what it is: protocol/SEAL.md.
 */
export interface ChecksumParameters {
  readonly width: 16 | 32;
  readonly poly: number;
  readonly init: number;
  readonly reflected: boolean;
  readonly xorout: number;
  readonly why: string;
}

export const checksums = {
  /** Ends every sealed record on the tag. Odd-weight preset: nothing the air CRC accepts can pass as sealed. */
  seal: {
    width: 16,
    poly: 0x1021,
    init: 0x504c,
    reflected: false,
    xorout: 0x0000,
    why: "ends every sealed record of the USER bank",
  },
  /** CRC-16 of GS1 EPC Gen2, catalogue name CRC-16/GENIBUS: StoredCRC, PacketCRC and commands. */
  air: {
    width: 16,
    poly: 0x1021,
    init: 0xffff,
    reflected: false,
    xorout: 0xffff,
    why: "StoredCRC of the EPC bank and the air interface, by GS1 EPC Gen2",
  },
  /** CRC-32/ISO-HDLC of the catalogue: link messages and the layout fingerprint. */
  crc32: {
    width: 32,
    poly: 0x04c11db7,
    init: 0xffffffff,
    reflected: true,
    xorout: 0xffffffff,
    why: "link messages and the layout fingerprint; in every language's standard library",
  },
} as const satisfies Record<string, ChecksumParameters>;

export type ChecksumId = keyof typeof checksums;
