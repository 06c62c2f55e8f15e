/** Progress of long work on a terminal: percent, rate and time left, on stderr, out of the way of messages. */

/** How often it is drawn. */
const EVERY_MS = 200;

/** What it is drawn on, and its clock. */
export interface ProgressScreen {
  readonly write: (text: string) => void;
  readonly nowMs: () => number;
}

const stderr: ProgressScreen = {
  write: (text) => process.stderr.write(text),
  nowMs: () => performance.now(),
};

export class Progress {
  readonly #total: number | null;
  readonly #screen: ProgressScreen | null;
  readonly #startMs: number;
  #drawnMs: number;
  #drawn = false;

  /** `total` bytes; null when it is not known. Without a screen nothing is drawn. */
  constructor(total: number | null, screen: ProgressScreen | null) {
    this.#total = total;
    this.#screen = screen;
    this.#startMs = screen?.nowMs() ?? 0;
    this.#drawnMs = this.#startMs;
  }

  bytes(done: number): void {
    const now = this.#screen?.nowMs();
    if (now === undefined || now - this.#drawnMs < EVERY_MS) return;
    this.#drawnMs = now;
    this.#drawn = true;
    const perSecond = (done / (now - this.#startMs)) * 1000;
    const parts = [`${(perSecond / 1e6).toFixed(1)} MB/s`];
    if (this.#total !== null && this.#total > 0) {
      parts.unshift(`${Math.floor((100 * Math.min(done, this.#total)) / this.#total)} %`);
      if (perSecond > 0) parts.push(`${duration(Math.max(0, this.#total - done) / perSecond)} left`);
    }
    this.#screen!.write(`\r\u001b[2K${parts.join(", ")}`);
  }

  /** A message that does not run into the progress line. */
  note(line: string): void {
    this.end();
    process.stderr.write(`${line}\n`);
  }

  end(): void {
    if (this.#drawn) this.#screen!.write("\r\u001b[2K");
    this.#drawn = false;
  }
}

/** Standard error when it is a terminal that does not show the results too, which would be the progress. */
export function progressScreen(resultsOnStdout: boolean): ProgressScreen | null {
  const busy = resultsOnStdout && process.stdout.isTTY === true;
  return process.stderr.isTTY === true && !busy ? stderr : null;
}

/** `8 s`, `2 min 5 s`, `1 h 4 min`. */
function duration(seconds: number): string {
  const whole = Math.ceil(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${whole % 60} s`;
  return `${Math.floor(whole / 3600)} h ${Math.floor((whole % 3600) / 60)} min`;
}
