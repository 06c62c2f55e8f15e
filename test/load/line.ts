/** The line between kit and reader program: a pseudo-terminal, or two with noise between them. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { dirname, resolve } from "node:path";
import { openPtyPair, type PtyPair, stop } from "../support/pty-pair.ts";

const TSX = import.meta.resolve("tsx");
const NOISE = resolve(import.meta.dirname, "noise-process.ts");

export interface LineOptions {
  /** File that gets what the kit says, before the line does. */
  readonly truth: string;
  /** Share of the pieces of bytes that are spoilt. */
  readonly noise: number;
  readonly seed: number;
}

/** A new line. `near`: device of an earlier one, for the same name again. */
export async function layLine({ truth, noise, seed }: LineOptions, near?: string): Promise<PtyPair> {
  const cable = await openPtyPair(near && dirname(near), truth);
  if (noise === 0) return cable;
  const beyond = await openPtyPair();
  const spoiler = spawn(process.execPath, ["--import", TSX, NOISE, cable.near, beyond.far, `${noise}`, `${seed}`], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  await once(spoiler.stdout, "data");
  const pull = async () => {
    await stop(spoiler);
    await beyond.pull();
    await cable.pull();
  };
  return { near: beyond.near, far: cable.far, pull };
}
