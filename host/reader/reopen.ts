/** A reader that was lost is tried again, sooner at first and less and less often. */
import type { Clock } from "./clock.ts";

const FIRST_WAIT_MS = 250;
const LONGEST_WAIT_MS = 5000;

/**
 * Tries to open until that succeeds or `forMs` have been waited; null then, and when `stopped` says so. `open` throws while
 * the reader is not there.
 */
export async function reopen<Opened>(
  open: () => Promise<Opened>,
  clock: Clock,
  forMs: number,
  stopped: () => boolean,
): Promise<Opened | null> {
  let waitMs = FIRST_WAIT_MS;
  for (let waitedMs = 0; waitedMs < forMs && !stopped(); waitMs = Math.min(2 * waitMs, LONGEST_WAIT_MS)) {
    const nextMs = Math.min(waitMs, forMs - waitedMs);
    await new Promise<void>((resolve) => clock.after(nextMs, resolve));
    waitedMs += nextMs;
    try {
      return await open();
    } catch {
      // Still away: what the caller is told in the end is why it was lost.
    }
  }
  return null;
}
