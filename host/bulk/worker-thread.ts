/** The second reader in a thread of its own. */
import { setImmediate as nextTurn } from "node:timers/promises";
import { MessageChannel, receiveMessageOnPort, type Worker } from "node:worker_threads";
import type { FromWorker, Task } from "./block-worker.ts";
import { Exchange } from "./exchange.ts";
import type { FromSecond, Memory, SecondReader } from "./second-reader.ts";

/** How long the first thread may sleep: signals, and the end of a thread that failed, are heard between two turns only. */
const SLEEP_MS = 20;

export class WorkerThread implements SecondReader {
  readonly #worker: Worker;
  readonly #exchange = new Exchange();
  readonly #channel = new MessageChannel();
  readonly #task: Omit<Task, "exchange" | "port">;
  readonly #memories: Memory[] = [];
  #error: Error | null = null;

  constructor(worker: Worker, task: Omit<Task, "exchange" | "port">) {
    this.#worker = worker;
    this.#task = task;
    worker.on("error", (error: Error) => {
      this.#error = error;
    });
  }

  begin(block: number): void {
    this.#exchange.begin(block);
    const { port1: port } = this.#channel;
    this.#worker.postMessage({ ...this.#task, exchange: this.#exchange.memory, port } satisfies Task, [port]);
  }

  claim(): number {
    return this.#exchange.claim();
  }

  async next(): Promise<FromSecond> {
    for (;;) {
      const { rung } = this.#exchange;
      const message: FromWorker | undefined = receiveMessageOnPort(this.#channel.port2)?.message;
      if (message?.kind === "engine") this.#memories.push(message.memory);
      else if (message) return message;
      else if (this.#error) throw this.#error;
      else if (!this.#exchange.awaitRing(rung, SLEEP_MS)) await nextTurn();
    }
  }

  memory(engine: number): Memory {
    return this.#memories[engine]!;
  }

  giveBack(engine: number): void {
    this.#exchange.giveBack(engine);
  }

  /** Ends the thread, whatever it does. */
  end(): void {
    this.#channel.port2.close();
    void this.#worker.terminate();
  }
}
