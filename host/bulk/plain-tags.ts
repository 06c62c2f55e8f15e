import { ROWS, STATE, TAG_BYTES } from "./engine.ts";

const HASHES = 32_768;

/** Numbers of the EPCs of a batch, in the order in which they first come. */
export class PlainTags {
  readonly bytes = new Uint8Array((ROWS + 1) * TAG_BYTES);
  readonly lengths = new Uint32Array(ROWS + 1);
  readonly #state: Uint32Array;
  readonly #byHash = new Uint16Array(HASHES);

  constructor(state: Uint32Array) {
    this.#state = state;
  }

  begin(): void {
    this.#byHash.fill(0);
  }

  /** Number of the EPC that was put behind the ones known; a new one is kept there. */
  numberOf(length: number): number {
    const { bytes, lengths } = this;
    const next = this.#state[STATE.tags]!;
    const at = next * TAG_BYTES;
    let hash = length;
    for (let i = at; i < at + length; i++) hash = Math.imul(hash ^ bytes[i]!, 0x01000193);
    for (let place = (hash ^ (hash >>> 15)) & (HASHES - 1); ; place = (place + 1) & (HASHES - 1)) {
      const known = this.#byHash[place]!;
      if (known === 0) {
        this.#byHash[place] = next + 1;
        lengths[next] = length;
        this.#state[STATE.tags] = next + 1;
        return next;
      }
      if (lengths[known - 1] === length && this.#isSame((known - 1) * TAG_BYTES, at, length)) return known - 1;
    }
  }

  #isSame(a: number, b: number, length: number): boolean {
    for (let i = 0; i < length; i++) if (this.bytes[a + i] !== this.bytes[b + i]) return false;
    return true;
  }
}
