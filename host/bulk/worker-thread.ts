import { Worker } from "node:worker_threads";
import type { Range } from "./file-ranges.ts";
import type { FromSecond, SecondReader, ToSecond } from "./second-reader.ts";

/** Stretches the thread has at a time: one to do and one to go on with. */
const MOST_RANGES = 2;

/** Node starts a thread from compiled code only: run from its sources, the program has one thread. */
export const CAN_START = import.meta.url.endsWith(".js");

/** A second reader in a thread of its own. */
export class WorkerThread implements SecondReader {
  readonly #worker: Worker;
  readonly #messages: FromSecond[] = [];
  #ranges = 0;
  #isReady = false;
  #error: Error | null = null;
  #wake = () => {};

  /** Starts it; `name` is what messages call the file. */
  constructor(path: string, name: string) {
    this.#worker = new Worker(new URL("./range-worker.js", import.meta.url), { workerData: { file: path, name } });
    this.#worker.on("message", (message: FromSecond | "ready") => {
      if (message === "ready") this.#isReady = true;
      else this.#messages.push(message);
      this.#wake();
    });
    this.#worker.on("error", (error: Error) => {
      this.#error = error;
      this.#wake();
    });
  }

  get wantsMore(): boolean {
    if (this.#error) throw this.#error;
    return this.#isReady && this.#ranges < MOST_RANGES;
  }

  give(range: Range): void {
    this.#ranges++;
    this.#worker.postMessage({ range } satisfies ToSecond);
  }

  giveBack(memory: ArrayBuffer): void {
    this.#worker.postMessage({ memory } satisfies ToSecond, [memory]);
  }

  async next(): Promise<FromSecond> {
    while (this.#messages.length === 0) {
      if (this.#error) throw this.#error;
      await new Promise<void>((resolve) => {
        this.#wake = resolve;
      });
    }
    const message = this.#messages.shift()!;
    if (message.kind !== "batch") this.#ranges--;
    return message;
  }

  async end(): Promise<void> {
    await this.#worker.terminate();
  }
}
