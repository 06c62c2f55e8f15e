import { Duplex, type Readable, type Writable } from "node:stream";

/** One duplex stream of a source and a sink that belong together; `release` lets go of both when it is destroyed. */
export class JoinedStream extends Duplex {
  readonly #source: Readable;
  readonly #sink: Writable;
  readonly #release: (done: () => void) => void;

  constructor(source: Readable, sink: Writable, release: (done: () => void) => void) {
    super();
    this.#source = source;
    this.#sink = sink;
    this.#release = release;
    source.on("data", (chunk: Buffer) => {
      if (!this.destroyed && !this.push(chunk)) source.pause();
    });
  }

  override _read(): void {
    this.#source.resume();
  }

  override _write(chunk: Buffer, _encoding: BufferEncoding, done: () => void): void {
    // A failed write is not passed on here: the event that says why the other end went away follows.
    this.#sink.write(chunk, () => done());
  }

  override _destroy(error: Error | null, done: (error: Error | null) => void): void {
    this.#release(() => done(error));
  }
}
