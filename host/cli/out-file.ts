/** A file that appears under its name only when it is whole. */
import { type FileHandle, open, rename, rm } from "node:fs/promises";
import type { Transform } from "node:stream";
import * as zlib from "node:zlib";
import { CommandError, EXIT, systemSentence } from "./exit.ts";
import { refuseExisting } from "./file-sink.ts";
import type { OutName } from "./out-name.ts";

/** Bytes collected before the system is asked to write them. */
const HEAP = 1 << 16;

/** Node has zstd since 22.15 and 23.8 (its documentation of zlib), and its types here are older. */
const { createZstdCompress } = zlib as { readonly createZstdCompress?: () => Transform };

const packers = { gzip: () => zlib.createGzip(), zstd: createZstdCompress ?? null };

/** Its methods throw a CommandError when the file cannot be written; the unfinished file is then removed. */
export class OutFile {
  readonly path: string;
  readonly #part: string;
  readonly #file: FileHandle;
  readonly #packer: Transform | null;
  readonly #packed: Uint8Array[] = [];
  #heap: Buffer[] = [];
  #heapBytes = 0;

  private constructor(path: string, file: FileHandle, packer: Transform | null) {
    this.path = path;
    this.#part = partOf(path);
    this.#file = file;
    this.#packer = packer;
    packer?.on("data", (bytes: Uint8Array) => this.#packed.push(bytes));
  }

  /**
   * Begins the file as `PATH.part`. Throws a CommandError when one of that name, or of its part, is there and may not be
   * replaced; when it cannot be written; and when this Node cannot pack it.
   */
  static async open({ path, packing }: OutName, overwrite: boolean): Promise<OutFile> {
    if (!overwrite) for (const name of [path, partOf(path)]) refuseExisting(name);
    const pack = packing && packers[packing];
    if (packing && !pack) {
      const can = "Node 22.15 and newer can (of the 23 line from 23.8 on)";
      throw new CommandError(EXIT.device, `${path}: Node ${process.versions.node} cannot pack with ${packing}; ${can}`);
    }
    try {
      return new OutFile(path, await open(partOf(path), "w"), pack ? pack() : null);
    } catch (error) {
      throw new CommandError(EXIT.device, systemSentence(path, error));
    }
  }

  /** Adds bytes or text; resolves when more may come. */
  readonly write = async (data: Uint8Array | string): Promise<void> => {
    const bytes = typeof data === "string" ? Buffer.from(data) : Buffer.from(data.buffer, data.byteOffset, data.length);
    this.#heap.push(bytes);
    this.#heapBytes += bytes.length;
    if (this.#heapBytes >= HEAP) await this.#flush();
  };

  /** Ends the file and gives it its name. */
  async commit(): Promise<void> {
    await this.#flush();
    await this.#guarded(async () => {
      if (this.#packer) {
        const packer = this.#packer;
        await new Promise((resolve, reject) => packer.once("end", resolve).once("error", reject).end());
        await this.#hand();
      }
      await this.#file.sync();
      await this.#file.close();
      await rename(this.#part, this.path);
    });
  }

  /** Removes what there is of it. */
  async discard(): Promise<void> {
    this.#packer?.destroy();
    await this.#file.close().catch(() => undefined);
    await rm(this.#part, { force: true });
  }

  async #flush(): Promise<void> {
    const bytes = Buffer.concat(this.#heap);
    this.#heap = [];
    this.#heapBytes = 0;
    await this.#guarded(async () => {
      if (!this.#packer) {
        await this.#file.writeFile(bytes);
        return;
      }
      const packer = this.#packer;
      await new Promise<void>((resolve, reject) => {
        packer.write(bytes, (error) => (error ? reject(error) : resolve()));
      });
      await this.#hand();
    });
  }

  async #hand(): Promise<void> {
    const packed = this.#packed.splice(0);
    if (packed.length > 0) await this.#file.writeFile(Buffer.concat(packed));
  }

  async #guarded(work: () => Promise<void>): Promise<void> {
    try {
      await work();
    } catch (error) {
      await this.discard();
      throw new CommandError(EXIT.device, `${systemSentence(this.path, error)}; the unfinished file was removed`);
    }
  }
}

function partOf(path: string): string {
  return `${path}.part`;
}
