import { Duplex } from "node:stream";

/** Two streams, each reading what the other writes; a reader that stops holds up the writer after `highWaterMark` bytes. */
export function duplexPair(highWaterMark = 16_384): [Duplex, Duplex] {
  const make = (other: () => End) => new End(highWaterMark, other);
  const a: End = make(() => b);
  const b: End = make(() => a);
  return [a, b];
}

class End extends Duplex {
  readonly #other: () => End;
  #release: (() => void) | null = null;

  constructor(highWaterMark: number, other: () => End) {
    super({ highWaterMark });
    this.#other = other;
  }

  override _read(): void {
    const release = this.#release;
    this.#release = null;
    release?.();
  }

  override _write(chunk: Buffer, _encoding: BufferEncoding, done: () => void): void {
    const other = this.#other();
    if (other.push(chunk)) done();
    else other.#release = done;
  }

  override _final(done: () => void): void {
    this.#other().push(null);
    done();
  }
}
