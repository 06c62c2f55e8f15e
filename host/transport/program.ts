import { spawn } from "node:child_process";
import type { Duplex } from "node:stream";
import { commandWords } from "./command-words.ts";
import { JoinedStream } from "./joined-stream.ts";
import { PortError, portError } from "./port-error.ts";

const KILL_AFTER_MS = 1000;

/** Starts a program without a shell and talks to its stdin and stdout; what it says on stderr goes to ours. */
export async function openProgram(name: string, command: string): Promise<Duplex> {
  const words = commandWords(command);
  if (!words) throw new PortError(`cannot open ${name}: a quote is not closed`);
  const [file, ...rest] = words;
  if (!file) throw new PortError(`cannot open ${name}: a program is written exec:command arguments`);
  const child = spawn(file, rest, { stdio: ["pipe", "pipe", "inherit"], shell: false, windowsHide: true });
  await new Promise<void>((resolve, reject) => {
    child.once("spawn", resolve);
    child.once("error", (error: NodeJS.ErrnoException) => {
      const missing = error.code === "ENOENT";
      reject(
        missing
          ? new PortError(`cannot open ${name}: there is no program ${file}`)
          : portError("cannot open", name, error),
      );
    });
  });
  const kill = () => child.kill("SIGKILL");
  process.once("exit", kill);
  const stream = new JoinedStream(child.stdout, child.stdin, (done) => {
    if (child.exitCode === null && child.signalCode === null) {
      child.kill();
      const timer = setTimeout(kill, KILL_AFTER_MS);
      child.once("close", () => clearTimeout(timer));
    }
    done();
  });
  // A write to a program that has just ended fails before its exit status is known.
  child.stdin.on("error", () => undefined);
  child.on("error", (error) => stream.destroy(portError("lost", name, error)));
  child.once("close", (status, signal) => {
    process.removeListener("exit", kill);
    if (stream.destroyed) return;
    if (status === 0) stream.push(null);
    else
      stream.destroy(
        new PortError(`lost ${name}: the program ended ${status === null ? `by ${signal}` : `with status ${status}`}`),
      );
  });
  return stream;
}
