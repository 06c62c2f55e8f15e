/** The program of the second thread. Started by WorkerThread. */
import { openSync } from "node:fs";
import { parentPort, workerData } from "node:worker_threads";
import { layout } from "../../protocol/index.ts";
import { makeEngine } from "./make-engine.ts";
import { RangeScan } from "./range-scan.ts";
import type { ToSecond } from "./second-reader.ts";

const { file, name } = workerData as { file: string; name: string };
const port = parentPort!;
const scan = new RangeScan(layout, makeEngine(layout), openSync(file, "r"), name, (message) => {
  port.postMessage(message, message.kind === "batch" ? [message.memory] : []);
});
port.on("message", (message: ToSecond) => {
  if ("memory" in message) scan.giveBack(message.memory);
  else void scan.give(message.range);
});
port.postMessage("ready");
