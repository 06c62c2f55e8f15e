/** The bytes a command is given, unpacked where they are packed. */
import { createReadStream, statSync } from "node:fs";
import { peeked } from "../capture/file-kind.ts";
import { PacketFileError } from "../capture/packet-file.ts";
import { packingOf, UnpackError, type Unpackers, unpacked, unpackers } from "../capture/unpack.ts";
import { CommandError, EXIT, systemSentence } from "./exit.ts";

export interface Source {
  /** What the file says, unpacked; iterate once. */
  readonly bytes: AsyncIterable<Uint8Array>;
  /** Path of the file; null for standard input. */
  readonly file: string | null;
  /** What messages call it. */
  readonly name: string;
  /** Bytes of the file as it lies there; null when that is not known. */
  readonly size: number | null;
  /** Of those, bytes taken so far. */
  taken(): number;
  /** Lets go of it, read or not. */
  close(): void;
}

/**
 * Opens a file, or standard input for `-`. Throws a CommandError when it cannot be read, and when it is packed in a way that
 * this Node cannot unpack.
 */
export async function openSource(file: string, unpack: Unpackers = unpackers): Promise<Source> {
  const name = file === "-" ? "standard input" : file;
  const stream = file === "-" ? process.stdin : openFile(file);
  let taken = 0;
  async function* counted(): AsyncGenerator<Uint8Array> {
    for await (const bytes of stream as AsyncIterable<Uint8Array>) {
      taken += bytes.length;
      yield bytes;
    }
  }
  const { first, all } = await peeked(counted(), 4);
  const packing = packingOf(first);
  const make = packing && unpack[packing];
  if (packing && !make) {
    stream.destroy();
    const can = "22.15 and newer can (of the 23 line from 23.8 on)";
    throw new CommandError(
      EXIT.device,
      `${name}: is packed with ${packing}, which Node ${process.versions.node} cannot unpack; Node ${can}, or unpack it first`,
    );
  }
  const regular = file !== "-" && statSync(file).isFile();
  return {
    bytes: packing && make ? unpacked(all, packing, make) : all,
    file: file === "-" ? null : file,
    name,
    size: regular ? statSync(file).size : null,
    taken: () => taken,
    close: () => stream.destroy(),
  };
}

function openFile(file: string) {
  try {
    if (statSync(file).isDirectory()) throw Object.assign(new Error(), { code: "EISDIR" });
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(file, error));
  }
  return createReadStream(file, { highWaterMark: 1 << 18 });
}

/** What to tell of a source that failed while it was read. */
export function sourceSentence(name: string, error: unknown): string {
  if (error instanceof PacketFileError) return error.message;
  return error instanceof UnpackError ? `${name}: ${error.message}` : systemSentence(name, error);
}

/** Whether an error is one of the file and not of this program. */
export function isSourceTrouble(error: unknown): boolean {
  const { errno } = error as NodeJS.ErrnoException;
  return error instanceof PacketFileError || error instanceof UnpackError || typeof errno === "number";
}

/** Whether two paths name the same file on disk. */
export function isSameFile(one: string, other: string): boolean {
  const [a, b] = [one, other].map((path) => statSync(path, { throwIfNoEntry: false }));
  return a?.isFile() === true && b?.isFile() === true && a.dev === b.dev && a.ino === b.ino;
}
