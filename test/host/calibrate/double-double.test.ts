/** Arithmetic of twice a double's precision, against whole numbers of any size. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  add,
  type DoubleDouble,
  divide,
  fromNumber,
  multiply,
  squareRoot,
  subtract,
} from "../../../host/calibrate/double-double.ts";

const SCALE = 2n ** 1100n;

/** Value times 2^1100, exactly: a double is a whole number of 2^-1074. */
function exactly([high, low]: DoubleDouble): bigint {
  return whole(high) + whole(low);
}

function whole(value: number): bigint {
  let [mantissa, exponent] = [value, 0];
  while (!Number.isInteger(mantissa)) {
    mantissa *= 2;
    exponent++;
  }
  return (BigInt(mantissa) * SCALE) / 2n ** BigInt(exponent);
}

const value = fc
  .tuple(fc.integer({ min: -(2 ** 53) + 1, max: 2 ** 53 - 1 }), fc.integer({ min: -(2 ** 40), max: 2 ** 40 }))
  .map(([high, low]): DoubleDouble => add(fromNumber(high), fromNumber(low / 2 ** 60)));

/** |found − exact| / |exact| below 2^-bits. */
function close(found: bigint, exact: bigint, bits: bigint): boolean {
  const off = found > exact ? found - exact : exact - found;
  return off * 2n ** bits <= (exact < 0n ? -exact : exact) + 2n;
}

describe("against exact arithmetic, to 100 bits", () => {
  it("sums and differences of the same sign", () => {
    fc.assert(
      fc.property(value, value, (a, b) => {
        const [x, y] = [exactly(a), exactly(b)];
        const same = x >= 0n === y >= 0n;
        expect(close(exactly(same ? add(a, b) : subtract(a, b)), same ? x + y : x - y, 100n)).toBe(true);
      }),
    );
  });

  it("products, quotients and roots", () => {
    fc.assert(
      fc.property(value, value, (a, b) => {
        const [x, y] = [exactly(a), exactly(b)];
        expect(close(exactly(multiply(a, b)), (x * y) / SCALE, 100n)).toBe(true);
        if (b[0] === 0) return;
        const q = exactly(divide(a, b));
        expect(close(q, (x * SCALE) / y, 98n)).toBe(true);
        const positive: DoubleDouble = b[0] < 0 ? [-b[0], -b[1]] : b;
        const root = exactly(squareRoot(positive));
        expect(close((root * root) / SCALE, exactly(positive), 98n)).toBe(true);
      }),
    );
  });
});
