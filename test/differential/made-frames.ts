/** Frames from a seed, one after the other: valid ones, damaged ones, and hostile ones whose seal fits what should not be. */
import { checksumOf, encode, layout, recordOf } from "../../protocol/index.ts";
import type { Random } from "../../sim/random.ts";

const frame = recordOf(layout, "frame");
export const SIZE = frame.bytes;

export function makeFrames(count: number, random: Random): Uint8Array {
  const all = new Uint8Array(count * SIZE);
  for (let i = 0; i < count; i++) {
    const at = i * SIZE;
    switch (random.integer() % 8) {
      case 0:
      case 1:
      case 2:
        all.set(valid(random), at);
        break;
      case 3:
        all.set(valid(random), at);
        flip(all, at, 1 + (random.integer() % 3), random);
        break;
      case 4:
        noise(all, at, random);
        break;
      case 5:
        noise(all, at, random);
        seal(all, at);
        break;
      case 6:
        all.set(valid(random), at);
        flip(all, at, 1 + (random.integer() % 4), random);
        seal(all, at);
        break;
      default:
        torn(all, at, random);
    }
  }
  return all;
}

function pick(random: Random, list: readonly number[]): number {
  return list[random.integer() % list.length]!;
}

/** Ends of ranges and sentinels as often as what lies between. */
function valid(random: Random): Uint8Array {
  return encode(frame, {
    status: random.integer() & 0xff,
    sequence: pick(random, [0, 0xffff, random.integer() & 0xffff]),
    pressure: pick(random, [3_328_000, 16_128_000, 16_777_215, 3_328_000 + (random.integer() % 12_800_001)]),
    temperature: pick(random, [-4000, 12_500, -32_768, (random.integer() % 16_501) - 4000]),
    supply: pick(random, [0, 4094, 4095, random.integer() % 4096]),
    uptime: pick(random, [0, 1_048_574, 1_048_575, random.integer() % 1_048_576]),
  }) as Uint8Array;
}

function flip(all: Uint8Array, at: number, bits: number, random: Random): void {
  for (let i = 0; i < bits; i++) {
    const bit = random.integer() % (8 * SIZE);
    all[at + (bit >> 3)]! ^= 1 << (bit & 7);
  }
}

function noise(all: Uint8Array, at: number, random: Random): void {
  for (let i = 0; i < SIZE; i++) all[at + i] = random.integer() & 0xff;
}

/** Puts the right seal under whatever stands there. */
function seal(all: Uint8Array, at: number): void {
  const sum = checksumOf("seal", all, at, at + SIZE - 2);
  all[at + SIZE - 2] = sum >> 8;
  all[at + SIZE - 1] = sum & 0xff;
}

/** Words of two frames, of erased memory, or of nothing at all. */
function torn(all: Uint8Array, at: number, random: Random): void {
  const [one, other] = [valid(random), valid(random)];
  const fill = pick(random, [0, 0xff]);
  const kind = random.integer() % 3;
  const words = random.integer() % (SIZE / 2 + 1);
  all.set(one, at);
  if (kind === 0) all.set(other.subarray(2 * words), at + 2 * words);
  else if (kind === 1) all.fill(fill, at + 2 * words, at + SIZE);
  else all.fill(fill, at, at + SIZE);
}
