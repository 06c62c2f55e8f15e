/** Unpacks gzip and zstd on the way in, in bounded memory. */
import type { Transform } from "node:stream";
import * as zlib from "node:zlib";

export type Packing = "gzip" | "zstd";

/** What unpacks; null where this Node cannot. */
export type Unpackers = { readonly [packing in Packing]: (() => Transform) | null };

/** Node has zstd since 22.15 and 23.8 (its documentation of zlib), and its types here are older. */
const { createZstdDecompress } = zlib as { readonly createZstdDecompress?: () => Transform };

export const unpackers: Unpackers = {
  gzip: () => zlib.createGunzip(),
  zstd: createZstdDecompress ? () => createZstdDecompress() : null,
};

/** First bytes of a gzip member with its one method (RFC 1952), and of a zstd frame (RFC 8878). */
const MAGICS: readonly (readonly [Packing, readonly number[]])[] = [
  ["gzip", [0x1f, 0x8b, 8]],
  ["zstd", [0x28, 0xb5, 0x2f, 0xfd]],
];

/** How a file is packed, by its first bytes; null when it is not. */
export function packingOf(first: Uint8Array): Packing | null {
  return MAGICS.find(([, magic]) => magic.every((byte, i) => first[i] === byte))?.[0] ?? null;
}

/** Why packed bytes cannot be read further, in one sentence without the file's name. What came before was handed on. */
export class UnpackError extends Error {
  override readonly name = "UnpackError";
}

/** Bytes given to the unpacker at once: damage is placed this finely, and costs no more than what they hold. */
const SLICE = 2048;

/** Unpacks a stream; throws an UnpackError where it is damaged or cut short, after everything before was handed on. */
export async function* unpacked(
  source: AsyncIterable<Uint8Array>,
  packing: Packing,
  make: () => Transform,
): AsyncGenerator<Uint8Array> {
  const engine = make();
  const made: Uint8Array[] = [];
  let failure: Error | null = null;
  let taken = 0;
  engine.on("data", (bytes: Uint8Array) => made.push(bytes));
  let wake = (): void => undefined;
  engine.on("error", (error) => {
    failure = error;
    wake();
  });
  const settled = (begin: (done: () => void) => void) =>
    new Promise<void>((resolve) => {
      wake = resolve;
      begin(resolve);
    });
  try {
    for await (const piece of source) {
      for (let from = 0; from < piece.length; from += SLICE) {
        const slice = piece.subarray(from, from + SLICE);
        await settled((done) => engine.write(slice, done));
        yield* made.splice(0);
        if (failure) throw damaged(packing, taken, taken + slice.length, failure);
        taken += slice.length;
      }
    }
    await settled((done) => engine.once("end", done).end());
    yield* made.splice(0);
    if (failure) throw new UnpackError(`the ${packing} data is cut short: the file ends at byte ${taken}`);
  } finally {
    engine.destroy();
  }
}

function damaged(packing: Packing, from: number, to: number, { message }: Error): UnpackError {
  const after = "nothing from there on was read";
  return new UnpackError(`the ${packing} data is damaged between byte ${from} and byte ${to} (${message}); ${after}`);
}
