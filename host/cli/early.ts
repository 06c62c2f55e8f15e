/** What takes long to start is begun before the command line is read. Loaded first. */
import { statSync } from "node:fs";
import { setFlagsFromString } from "node:v8";
import { CAN_START, LARGE_BYTES, startWorker } from "../bulk/worker.ts";

const words = process.argv.slice(2);

function isLargeFile(word: string): boolean {
  try {
    const found = statSync(word);
    return found.isFile() && found.size >= LARGE_BYTES;
  } catch {
    // No file, or one of which the command itself will say what is wrong.
    return false;
  }
}

if (words[0] === "decode" && words.includes("--frames")) {
  // What is done a million times is done in WebAssembly: to optimise JavaScript at the usual rate takes longer than it saves.
  setFlagsFromString("--interrupt-budget=2000000");
  if (CAN_START && words.some(isLargeFile)) startWorker();
}
