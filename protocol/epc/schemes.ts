/**
 * The 96-bit EPC schemes plyframe knows, by GS1 EPC Tag Data Standard 2.3: header (8 bits), filter (3), partition (3),
 * company prefix, reference, serial. The partition moves the border between company prefix and reference, which is why
 * these layouts cannot be fields of the memory map.
 */

export type SchemeId = "sgtin-96" | "grai-96" | "giai-96";

export interface Scheme {
  readonly id: SchemeId;
  /** Scheme name in a pure identity URI. */
  readonly name: string;
  readonly header: number;
  /** What stands after the company prefix. */
  readonly reference: "item_reference" | "asset_type" | "asset_reference";
  /** Digits of company prefix and reference together; null where the reference is an unpadded number. */
  readonly digits: number | null;
  /** 0: the scheme has no serial. */
  readonly serialBits: 38 | 0;
}

export const EPC_BYTES = 12;

/** First bit of the filter, the partition and the company prefix, counted from the EPC's most significant bit. */
export const FILTER_AT = 8;
export const PARTITION_AT = 11;
export const PREFIX_AT = 14;

export const schemes: readonly Scheme[] = [
  { id: "sgtin-96", name: "sgtin", header: 0x30, reference: "item_reference", digits: 13, serialBits: 38 },
  { id: "grai-96", name: "grai", header: 0x33, reference: "asset_type", digits: 12, serialBits: 38 },
  { id: "giai-96", name: "giai", header: 0x34, reference: "asset_reference", digits: null, serialBits: 0 },
];

const PREFIX_BITS = [40, 37, 34, 30, 27, 24, 20] as const;

/** Where the fields lie and how many digits they have, for one partition value (0 to 6) of a scheme. */
export interface Partition {
  readonly prefixBits: number;
  readonly prefixDigits: number;
  readonly referenceBits: number;
  /** null: an unpadded number, limited by its bits alone. */
  readonly referenceDigits: number | null;
}

export function partitionOf(scheme: Scheme, value: number): Partition {
  const prefixBits = PREFIX_BITS[value]!;
  const prefixDigits = 12 - value;
  return {
    prefixBits,
    prefixDigits,
    referenceBits: EPC_BYTES * 8 - PREFIX_AT - prefixBits - scheme.serialBits,
    referenceDigits: scheme.digits === null ? null : scheme.digits - prefixDigits,
  };
}

/** Path of a field in a fault: `sgtin_96.serial`. */
export function pathOf(scheme: Scheme, field: string): string {
  return `${scheme.id.replace("-", "_")}.${field}`;
}
