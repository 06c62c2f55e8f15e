/** Reading of all slices of a record in one pass, for the path that decodes millions of records. */
import { type CompiledSlice, readSlice } from "./container.ts";

/** Reads every slice of the record that begins at `bytes[at]`, all of which must be there. Allocates nothing. */
export type SlicesReader = (bytes: ArrayLike<number>, at: number, raws: Float64Array | number[]) => void;

/** What to do for one slice, packed into one integer: how the container is loaded, sign, both shifts, first byte. */
const SAME_CONTAINER = 0;
const BIG_16 = 1;
const BIG_32 = 2;
const OTHER = 3;
const SIGNED = 4;
const LEFT = 3;
const RIGHT = 8;
const FIRST = 13;

/**
 * Builds the reader. Each slice becomes one integer beforehand and a container is loaded once for all of its slices:
 * following one object a slice costs several times as much.
 */
export function makeSlicesReader(slices: readonly CompiledSlice[]): SlicesReader {
  const steps = Int32Array.from(slices, (slice, i) => stepOf(slice, slices[i - 1]));

  return (bytes, at, raws) => {
    let container = 0;
    for (let i = 0; i < steps.length; i++) {
      const step = steps[i]!;
      const load = step & 3;
      if (load === OTHER) {
        raws[i] = readSlice(bytes, at, slices[i]!);
        continue;
      }
      if (load !== SAME_CONTAINER) {
        const from = at + (step >> FIRST);
        container = (bytes[from]! << 8) | bytes[from + 1]!;
        if (load === BIG_32) container = (container << 16) | (bytes[from + 2]! << 8) | bytes[from + 3]!;
      }
      // Both shifts use the lowest five bits of their right-hand side, whatever stands above them.
      const aligned = container << (step >> LEFT);
      raws[i] = step & SIGNED ? aligned >> (step >> RIGHT) : aligned >>> (step >> RIGHT);
    }
  };
}

function stepOf(slice: CompiledSlice, previous: CompiledSlice | undefined): number {
  const { byte, bytes, little, shift, width, signed } = slice;
  if (little || (bytes !== 2 && bytes !== 4)) return OTHER;
  const same = previous && !previous.little && previous.byte === byte && previous.bytes === bytes;
  const load = same ? SAME_CONTAINER : bytes === 2 ? BIG_16 : BIG_32;
  return load | (signed ? SIGNED : 0) | ((32 - shift - width) << LEFT) | ((32 - width) << RIGHT) | (byte << FIRST);
}
