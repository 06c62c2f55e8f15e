/** The second thread, which takes as long to start as the program to load: it may be started before its work is known. */
import { Worker } from "node:worker_threads";

/** Node starts a thread from compiled code only: run from its sources, the program has one thread. */
export const CAN_START = import.meta.url.endsWith(".js");

/** Bytes of a file from which on a second thread is worth its start. */
export const LARGE_BYTES = 32 * 1024 * 1024;

let started: Worker | null = null;

/** Starts it, to be taken by `takeWorker()`. It does not keep the program running. */
export function startWorker(): void {
  started = new Worker(new URL("./block-worker.js", import.meta.url));
  started.unref();
}

/** The one that was started, or else a new one. */
export function takeWorker(): Worker {
  if (!started) startWorker();
  const worker = started!;
  started = null;
  return worker;
}
