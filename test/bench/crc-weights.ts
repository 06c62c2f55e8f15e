/**
 * Exact error-detection figures of a 16-bit CRC. How many error patterns of each weight pass unseen is counted over all
 * patterns, by way of the dual code: 65 536 words instead of 2^n (MacWilliams' identity). Independent of the codec.
 */

/** x^i modulo the polynomial for i = 0 … n − 1: what an error in the i-th bit from the end leaves in the register. */
export function syndromes(poly: number, n: number): number[] {
  const list: number[] = [];
  for (let i = 0, s = 1; i < n; i++) {
    list.push(s);
    s = ((s << 1) ^ (s & 0x8000 ? poly : 0)) & 0xffff;
  }
  return list;
}

/** Smallest i > 0 with x^i = 1: blocks of up to that many bits show every double error. */
export function order(poly: number): number {
  for (let i = 1, s = 1; ; i++) {
    s = ((s << 1) ^ (s & 0x8000 ? poly : 0)) & 0xffff;
    if (s === 1) return i;
  }
}

/** Patterns of weight 0 … `most` in a block of `n` bits (checksum included) that the checksum does not see. */
export function undetected(poly: number, n: number, most: number): bigint[] {
  const transform = new Int32Array(65_536);
  for (const s of syndromes(poly, n)) transform[s]!++;
  for (let half = 1; half < 65_536; half *= 2) {
    for (let i = 0; i < 65_536; i++) {
      if (i & half) continue;
      const [a, b] = [transform[i]!, transform[i + half]!];
      transform[i] = a + b;
      transform[i + half] = a - b;
    }
  }
  const dual = new Map<number, bigint>();
  for (const value of transform) {
    const weight = (n - value) / 2;
    dual.set(weight, (dual.get(weight) ?? 0n) + 1n);
  }
  return Array.from({ length: most + 1 }, (_, w) => {
    let sum = 0n;
    for (const [weight, count] of dual) sum += count * krawtchouk(n, w, weight);
    return sum / 65_536n;
  });
}

function krawtchouk(n: number, w: number, j: number): bigint {
  let sum = 0n;
  for (let i = 0; i <= w; i++) sum += (i % 2 ? -1n : 1n) * choose(j, i) * choose(n - j, w - i);
  return sum;
}

/** Binomial coefficient; 0 when k > n. */
export function choose(n: number, k: number): bigint {
  let result = 1n;
  for (let i = 0; i < k; i++) result = (result * BigInt(n - i)) / BigInt(i + 1);
  return n < k ? 0n : result;
}

/** Bursts of exactly `width` bits (first and last in error) that leave the register at 0; the place does not matter. */
export function unseenBursts(poly: number, width: number): number {
  const inner = Math.max(0, width - 2);
  let unseen = 0;
  for (let middle = 0; middle < 2 ** inner; middle++) {
    let register = 0;
    for (let bit = width - 1; bit >= 0; bit--) {
      const set = bit === 0 || bit === width - 1 ? 1 : (middle >> (bit - 1)) & 1;
      const top = register & 0x8000;
      register = ((register << 1) ^ set ^ (top ? poly : 0)) & 0xffff;
    }
    if (register === 0) unseen++;
  }
  return unseen;
}

/** Number of ones of a binary number. */
export function ones(value: number): number {
  let count = 0;
  for (let rest = value; rest > 0; rest = Math.floor(rest / 2)) count += rest % 2;
  return count;
}
