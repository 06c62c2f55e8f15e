import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** Two pseudo-terminals joined like the ends of a serial cable, made by socat. */
export interface PtyPair {
  readonly near: string;
  readonly far: string;
  /** Pulls the cable: both devices vanish. */
  pull(): Promise<void>;
}

/**
 * `folder`: where an earlier pair was, for the same names again. `said`: a file that gets what the far end says, before the
 * near end does; behind what it holds.
 */
export async function openPtyPair(
  folder = mkdtempSync(join(tmpdir(), "plyframe-pty-")),
  said: string | null = null,
): Promise<PtyPair> {
  mkdirSync(folder, { recursive: true });
  const [near, far] = [join(folder, "near"), join(folder, "far")];
  const record = said === null ? [] : ["-R", said];
  const socat = spawn("socat", [...record, `pty,raw,echo=0,link=${near}`, `pty,raw,echo=0,link=${far}`], {
    stdio: "ignore",
  });
  while (!existsSync(near) || !existsSync(far)) {
    if (socat.exitCode !== null) throw new Error(`socat ended with status ${socat.exitCode}`);
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  return {
    near,
    far,
    async pull() {
      await stop(socat);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

/** Ends a process and waits until it is gone. */
export async function stop(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const gone = new Promise((resolve) => child.once("exit", resolve));
  child.kill();
  await gone;
}
