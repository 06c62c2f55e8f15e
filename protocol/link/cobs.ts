/**
 * Consistent Overhead Byte Stuffing (Cheshire and Baker, IEEE/ACM Transactions on Networking 7(2), 1999): a code byte n
 * is followed by n - 1 bytes that are not zero, then stands for one zero, unless n is FFh or the frame ends.
 */

/** Longest encoding of `length` bytes, without a delimiter. */
export function maxStuffed(length: number): number {
  return length + Math.floor(length / 254) + 1;
}

/** Stuffs `bytes`; the result holds no zero and no delimiter. */
export function stuff(bytes: ArrayLike<number>): Uint8Array {
  const out = new Uint8Array(maxStuffed(bytes.length));
  let code = 0;
  let to = 1;
  for (let i = 0; i < bytes.length; i++) {
    if (to - code === 255) {
      out[code] = 255;
      code = to++;
    }
    if (bytes[i] === 0) {
      out[code] = to - code;
      code = to++;
    } else {
      out[to++] = bytes[i]!;
    }
  }
  out[code] = to - code;
  return out.subarray(0, to);
}

/**
 * Unstuffs `bytes[from, to)` into `out` and returns the number of bytes written; -1 when the stuffing holds a zero or a
 * code runs past the end, which an encoding never does. `out` must have room for `to - from` bytes.
 */
export function unstuff(bytes: ArrayLike<number>, from: number, to: number, out: Uint8Array): number {
  let length = 0;
  let at = from;
  while (at < to) {
    const code = bytes[at]!;
    const next = at + code;
    if (code === 0 || next > to) return -1;
    for (at++; at < next; at++) {
      const byte = bytes[at]!;
      if (byte === 0) return -1;
      out[length++] = byte;
    }
    if (code !== 255 && at < to) out[length++] = 0;
  }
  return length;
}
