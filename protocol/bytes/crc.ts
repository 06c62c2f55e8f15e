/**
 * Table-driven CRC by the catalogue's parameters, 16 or 32 bits wide.
 * Needed beside the `crc` package where a browser or a bulk path wants no dependency; the two are checked against each other.
 */
export interface CrcParameters {
  readonly width: 16 | 32;
  readonly poly: number;
  readonly init: number;
  readonly reflected: boolean;
  readonly xorout: number;
}

/** Checksum of `bytes[from, to)`, an unsigned integer of the parameter's width. */
export type Checksum = (bytes: ArrayLike<number>, from: number, to: number) => number;

function reflect(value: number, bits: number): number {
  let out = 0;
  for (let i = 0; i < bits; i++) if (value & (1 << i)) out |= 1 << (bits - 1 - i);
  return out >>> 0;
}

function forwardTable(width: number, poly: number): Int32Array {
  const top = 1 << (width - 1);
  const mask = width === 32 ? -1 : (1 << width) - 1;
  return Int32Array.from({ length: 256 }, (_, byte) => {
    let register = byte << (width - 8);
    for (let bit = 0; bit < 8; bit++) register = (register & top ? (register << 1) ^ poly : register << 1) & mask;
    return register;
  });
}

function reflectedTable(width: number, poly: number): Int32Array {
  const backward = reflect(poly, width);
  return Int32Array.from({ length: 256 }, (_, byte) => {
    let register = byte;
    for (let bit = 0; bit < 8; bit++) register = register & 1 ? (register >>> 1) ^ backward : register >>> 1;
    return register;
  });
}

/** Builds the checksum function for a set of parameters; the table is made once. */
export function makeChecksum(parameters: CrcParameters): Checksum {
  const { width, poly, xorout } = parameters;
  const mask = width === 32 ? -1 : 0xffff;
  if (parameters.reflected) {
    const table = reflectedTable(width, poly);
    const init = reflect(parameters.init, width);
    return (bytes, from, to) => {
      let register = init;
      for (let i = from; i < to; i++) register = (register >>> 8) ^ table[(register ^ bytes[i]!) & 0xff]!;
      return ((register ^ xorout) & mask) >>> 0;
    };
  }
  const table = forwardTable(width, poly);
  return width === 16
    ? makeForward16(table, parameters.init, xorout)
    : (bytes, from, to) => {
        let register = parameters.init;
        for (let i = from; i < to; i++) register = (register << 8) ^ table[(register >>> 24) ^ bytes[i]!]!;
        return (register ^ xorout) >>> 0;
      };
}

/** Four bytes a step, each through the table of its distance from the last: the seal of every record goes through here. */
function makeForward16(last: Int32Array, init: number, xorout: number): Checksum {
  const oneOn = (entry: number) => ((entry << 8) & 0xffff) ^ last[entry >> 8]!;
  const third = last.map(oneOn);
  const second = third.map(oneOn);
  const first = second.map(oneOn);
  return (bytes, from, to) => {
    let register = init;
    let i = from;
    for (; i + 3 < to; i += 4) {
      register =
        first[(register >> 8) ^ bytes[i]!]! ^
        second[(register & 0xff) ^ bytes[i + 1]!]! ^
        third[bytes[i + 2]!]! ^
        last[bytes[i + 3]!]!;
    }
    for (; i < to; i++) register = ((register << 8) & 0xffff) ^ last[(register >> 8) ^ bytes[i]!]!;
    return register ^ xorout;
  };
}
