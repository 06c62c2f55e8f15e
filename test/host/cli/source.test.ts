/** The bytes a command is given, packed in a way that this Node may or may not know: what unpacks is put in by the test. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { Transform } from "node:stream";
import { expect, it } from "vitest";
import { unpackers } from "../../../host/capture/unpack.ts";
import { CommandError, EXIT } from "../../../host/cli/exit.ts";
import { openSource } from "../../../host/cli/source.ts";
import { LEG, testFolder } from "../../support/plyframe.ts";

/** A file that begins like zstd; what follows is left as it is. */
function zstdLike(): string {
  const file = join(testFolder(), "leg.zst");
  writeFileSync(file, Buffer.concat([Buffer.from("28b52ffd", "hex"), readFileSync(LEG)]));
  return file;
}

it("is unpacked by what Node has for it", async () => {
  const zstd = () => {
    let head = 4;
    return new Transform({
      transform(chunk: Buffer, _, done) {
        const skip = Math.min(head, chunk.length);
        head -= skip;
        done(null, chunk.subarray(skip));
      },
    });
  };
  const file = zstdLike();
  const source = await openSource(file, { ...unpackers, zstd });
  const parts: Uint8Array[] = [];
  for await (const part of source.bytes) parts.push(part);
  expect(Buffer.concat(parts).equals(readFileSync(LEG))).toBe(true);
  expect([source.size, source.taken()]).toEqual([readFileSync(file).length, readFileSync(file).length]);
});

it("is refused with the Node that can, where this one cannot", async () => {
  const file = zstdLike();
  const refusal = await openSource(file, { ...unpackers, zstd: null }).catch((error: unknown) => error);
  expect(refusal).toBeInstanceOf(CommandError);
  const { status, message } = refusal as CommandError;
  expect(status).toBe(EXIT.device);
  expect(message).toBe(
    `${file}: is packed with zstd, which Node ${process.versions.node} cannot unpack; Node 22.15 and newer can (of the 23 line from 23.8 on), or unpack it first`,
  );
});
