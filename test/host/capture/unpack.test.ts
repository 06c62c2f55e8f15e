/** gzip and zstd on the way in. The packed bytes are those of node:zlib, and of the zstd program where it is needed. */
import { Transform } from "node:stream";
import * as zlib from "node:zlib";
import { describe, expect, it } from "vitest";
import { packingOf, UnpackError, unpacked, unpackers } from "../../../host/capture/unpack.ts";

/** Bytes that pack badly, so that a packed file has many slices. */
const plain = Buffer.from(Array.from({ length: 20_000 }, (_, i) => `line ${i} ${Math.sin(i)}\n`).join(""));
const packed = zlib.gzipSync(plain);

async function unpack(bytes: Uint8Array, cut = 5000, make: () => Transform = () => unpackers.gzip!()) {
  async function* pieces() {
    for (let at = 0; at < bytes.length; at += cut) yield bytes.subarray(at, at + cut);
  }
  const parts: Uint8Array[] = [];
  let error: unknown = null;
  try {
    for await (const piece of unpacked(pieces(), "gzip", make)) parts.push(piece);
  } catch (caught) {
    error = caught;
  }
  return { bytes: Buffer.concat(parts), error: error as Error | null };
}

describe("packing", () => {
  it.each([
    ["gzip", packed],
    ["zstd", Buffer.from("28b52ffd0458", "hex")],
    [null, Buffer.from("{}")],
    [null, Buffer.from("1f8b", "hex")],
    [null, Buffer.from("")],
  ] as const)("%s is known by its first bytes", (packing, bytes) => expect(packingOf(bytes)).toBe(packing));
});

describe("gzip", () => {
  it("is unpacked, one member or several, however it is cut into pieces", async () => {
    for (const cut of [100_000, 4097, 1000]) expect((await unpack(packed, cut)).bytes.equals(plain)).toBe(true);
    const twice = await unpack(Buffer.concat([packed, packed]));
    expect([twice.error, twice.bytes.equals(Buffer.concat([plain, plain]))]).toEqual([null, true]);
  });

  it.each([packed.length - 1, packed.length - 8, 100_000, 30, 5])(
    "cut short at byte %i hands on what came before",
    async (length) => {
      const { bytes, error } = await unpack(packed.subarray(0, length));
      expect(error).toBeInstanceOf(UnpackError);
      expect(error!.message).toBe(`the gzip data is cut short: the file ends at byte ${length}`);
      expect(bytes.equals(plain.subarray(0, bytes.length))).toBe(true);
      // All of it but the checksum is there in the first two cases; a quarter of the text or more in the third.
      expect(bytes.length).toBeGreaterThanOrEqual(
        length > 200_000 ? plain.length : length > 10_000 ? plain.length / 4 : 0,
      );
    },
  );

  it("damaged says where, and hands on what came before", async () => {
    // Stored blocks (RFC 1951, 3.2.4): a byte, the length and its complement, the bytes themselves.
    const stored = zlib.gzipSync(plain, { level: 0 });
    let [at, before] = [10, 0];
    for (let block = 0; block < 5; block++) {
      const length = stored.readUInt16LE(at + 1);
      at += 5 + length;
      before += length;
    }
    stored[at + 3] = stored[at + 3]! ^ 1;
    const { bytes, error } = await unpack(stored);
    const [, from, to] = /damaged between byte (\d+) and byte (\d+) \((.+)\); nothing from there on was read/.exec(
      error!.message,
    )!;
    expect([Number(from) <= at + 4, Number(to) > at, Number(to) - Number(from) <= 2048]).toEqual([true, true, true]);
    expect(bytes.equals(plain.subarray(0, bytes.length))).toBe(true);
    expect([bytes.length > before - 2048, bytes.length <= before]).toEqual([true, true]);
  });

  it("with another checksum than its data is damaged at its end", async () => {
    const damaged = Buffer.from(packed);
    damaged[packed.length - 6] = damaged[packed.length - 6]! ^ 1;
    const { error } = await unpack(damaged);
    expect(error!.message).toMatch(/incorrect data check/);
  });

  it("followed by something else names it, after all of it", async () => {
    const few = plain.subarray(0, 3000);
    const { error, bytes } = await unpack(Buffer.concat([zlib.gzipSync(few), Buffer.from("more")]), 1);
    expect(error!.message).toMatch(/the gzip data is damaged between byte \d+ and byte \d+/);
    expect(bytes.equals(few)).toBe(true);
  });

  it("hands on the error of its source, after what came before", async () => {
    const lost = Object.assign(new Error("gone"), { errno: -5 });
    async function* source() {
      yield packed.subarray(0, 100_000);
      throw lost;
    }
    let length = 0;
    const reading = (async () => {
      for await (const piece of unpacked(source(), "gzip", unpackers.gzip!)) length += piece.length;
    })();
    await expect(reading).rejects.toBe(lost);
    expect(length).toBeGreaterThan(plain.length / 4);
  });
});

describe("zstd", () => {
  it("is unpacked by whatever this Node has for it", async () => {
    // Stands in where Node has none: takes the magic off and lets the rest through.
    let head = 4;
    const standIn = new Transform({
      transform(chunk: Buffer, _, done) {
        const skip = Math.min(head, chunk.length);
        head -= skip;
        done(null, chunk.subarray(skip));
      },
    });
    const file = Buffer.concat([Buffer.from("28b52ffd", "hex"), plain]);
    expect((await unpack(file, 999, () => standIn)).bytes.equals(plain)).toBe(true);
  });

  it("is there exactly where node:zlib has it", () => {
    expect(unpackers.zstd !== null).toBe("createZstdDecompress" in zlib);
  });
});
