/** A file being written, whose loss is told once and does not end what else is going on. */
import { once } from "node:events";
import { close, createWriteStream, fstatSync, open, statSync, type WriteStream, write, writeSync } from "node:fs";
import { CommandError, EXIT, systemSentence } from "./exit.ts";
import { note } from "./terminal.ts";

/** Whether a file is written anew or behind what it holds. */
export type SinkStart = "anew" | "end";

export interface FileSink {
  /** For those who write to a stream; an error of it has been told. */
  readonly stream: WriteStream;
  /** Bytes or text, as they are; dropped once the file is lost. */
  write(data: Uint8Array | string): void;
  /** Resolves when the file can take more. */
  drained(): Promise<void>;
  /** Ends the file and waits until everything is handed to the file system. */
  close(): Promise<void>;
}

/**
 * Throws a CommandError of wrong use when a file of that name is there already; devices and pipes hold nothing to lose.
 * `canGoOn`: the command has an --append.
 */
export function refuseExisting(name: string, canGoOn = false): void {
  if (!statSync(name, { throwIfNoEntry: false })?.isFile()) return;
  const ways = `give another name, ${canGoOn ? "--append to go on in it, " : ""}or --overwrite to replace it`;
  throw new CommandError(EXIT.usage, `${name}: is there already; ${ways}`);
}

/**
 * As fs.write, but a regular file has the bytes when this returns: a program that is killed has then given the system
 * everything but the piece under way.
 */
const writeAtOnce: typeof write = ((
  fd: number,
  data: Uint8Array,
  offset: number,
  length: number,
  position: number | null,
  done: (error: Error | null, written: number, data: Uint8Array) => void,
) => {
  // A pipe may be full for as long as its reader likes.
  if (!fstatSync(fd).isFile()) return write(fd, data, offset, length, position, done);
  let written = 0;
  let trouble: Error | null = null;
  try {
    written = writeSync(fd, data, offset, length, position);
  } catch (error) {
    trouble = error as Error;
  }
  done(trouble, written, data);
}) as typeof write;

/**
 * Opens a file for writing; throws a CommandError when it cannot be. A file lost later (a full disk) is told in a sentence
 * that begins with `what`, and gives the program the status of file trouble.
 */
export async function openSink(name: string, what: string, from: SinkStart = "anew"): Promise<FileSink> {
  const flags = from === "anew" ? "w" : "a";
  const stream = createWriteStream(name, { flags, fs: { open, close, write: writeAtOnce } });
  try {
    await once(stream, "open");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  }
  stream.once("error", (error) => {
    note(`plyframe: ${what} incomplete: ${systemSentence(name, error)}`);
    process.exitCode = EXIT.device;
  });
  return {
    stream,
    write: (data) => {
      if (!stream.destroyed) stream.write(data);
    },
    drained: async () => {
      while (stream.writableNeedDrain && !stream.destroyed) {
        await Promise.race([once(stream, "drain"), once(stream, "close")]).catch(() => undefined);
      }
    },
    close: () =>
      new Promise((resolve) => {
        if (stream.closed) return resolve();
        stream.once("close", resolve);
        stream.end();
      }),
  };
}
