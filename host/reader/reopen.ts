/** A reader that was lost is tried again, sooner at first and less and less often. */
import type { Clock } from "./clock.ts";

const FIRST_WAIT_MS = 250;
const LONGEST_WAIT_MS = 5000;

/** The waits before the tries: each twice as long as the one before, up to five seconds, and only so long in all. */
export class Patience {
  #waitMs = FIRST_WAIT_MS;
  #leftMs: number;

  /** `forMs`: how long is waited in all; the tries themselves are not counted. */
  constructor(forMs: number) {
    this.#leftMs = forMs;
  }

  /** The next wait in ms; null when patience is at an end. */
  next(): number | null {
    if (this.#leftMs <= 0) return null;
    const waitMs = Math.min(this.#waitMs, this.#leftMs);
    this.#leftMs -= waitMs;
    this.#waitMs = Math.min(2 * this.#waitMs, LONGEST_WAIT_MS);
    return waitMs;
  }
}

/** A try that follows after a wait. */
export interface Try {
  /** 1 for the first since the reader was lost. */
  readonly attempt: number;
  readonly waitMs: number;
  /** Why the try before failed, in one sentence; null before the first. */
  readonly failed: string | null;
}

export interface ReopenOptions {
  readonly clock: Clock;
  readonly patience: Patience;
  /** Ends the waiting at once. */
  readonly stop: AbortSignal;
  /** The sentence of an error that another try may overcome; null for one that is none: it is thrown. */
  readonly sentenceOf: (error: unknown) => string | null;
  readonly onTry: (next: Try) => void;
}

/** Opens after a wait, again and again, until that succeeds; null when patience is at an end or `stop` says so. */
export async function reopen<Opened>(open: () => Promise<Opened>, options: ReopenOptions): Promise<Opened | null> {
  const { clock, patience, stop, sentenceOf, onTry } = options;
  let failed: string | null = null;
  for (let attempt = 1; !stop.aborted; attempt++) {
    const waitMs = patience.next();
    if (waitMs === null) return null;
    onTry({ attempt, waitMs, failed });
    await waited(clock, waitMs, stop);
    if (stop.aborted) return null;
    try {
      return await open();
    } catch (error) {
      failed = sentenceOf(error);
      if (failed === null) throw error;
    }
  }
  return null;
}

function waited(clock: Clock, waitMs: number, stop: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const cancel = clock.after(waitMs, () => over());
    const over = () => {
      cancel();
      stop.removeEventListener("abort", over);
      resolve();
    };
    stop.addEventListener("abort", over);
  });
}
