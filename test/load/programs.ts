/** Programs of a load run: the compiled `plyframe kit` and `plyframe read`, each a process of its own. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { resolve } from "node:path";

const PLYFRAME = resolve(import.meta.dirname, "../../dist/command/main.js");

export interface KitRun {
  readonly child: ChildProcess;
  /** Exit status; null when it was ended by a signal. */
  readonly ended: Promise<number | null>;
}

/** Starts `plyframe kit` with sixty-four tags; resolves when it has its device open. */
export async function startKit(device: string, seed: number): Promise<KitRun> {
  const words = [PLYFRAME, "kit", "--scenario", "many-tags", "--seed", `${seed}`, "--port", device];
  const child = spawn(process.execPath, words, { stdio: ["ignore", "ignore", "pipe"] });
  const ended = new Promise<number | null>((done) => child.once("close", (status) => done(status)));
  let stderr = "";
  await new Promise<void>((done, fail) => {
    child.stderr.setEncoding("utf8").on("data", (text: string) => {
      stderr += text;
      if (stderr.includes(` on ${device}\n`)) done();
    });
    child.once("close", () => fail(new Error(`plyframe kit ended: ${stderr}`)));
  });
  return { child, ended };
}

export interface ReadRun {
  readonly stdout: () => string;
  readonly stderr: () => string;
  /** Resolves when so many lines more were shown, or the program is gone. */
  more(lines: number): Promise<void>;
  /** Resolves when its messages hold the text, or the program is gone. */
  said(text: string): Promise<void>;
  stop(signal: NodeJS.Signals): void;
  readonly ended: Promise<number | null>;
}

/** Starts `plyframe read --append --json`; `fileBlocks`: files it writes can grow to so many kilobytes (ulimit -f of bash). */
export function startRead(device: string, capture: string, fileBlocks: number | null = null): ReadRun {
  const reading = ["--json", "--port", device, "--period", "10", "--retry", "600"];
  const words = [PLYFRAME, "read", ...reading, "--capture", capture, "--append"];
  const limited = ["-c", `ulimit -f ${fileBlocks}; exec "$0" "$@"`, process.execPath, ...words];
  const child =
    fileBlocks === null
      ? spawn(process.execPath, words, { stdio: ["ignore", "pipe", "pipe"] })
      : spawn("bash", limited, { stdio: ["ignore", "pipe", "pipe"] });
  let [stdout, stderr, lines] = ["", "", 0];
  let look: (() => void)[] = [];
  const looked = () => {
    for (const each of look) each();
  };
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    stdout += text;
    lines += text.split("\n").length - 1;
    looked();
  });
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    stderr += text;
    looked();
  });
  let gone = false;
  const ended = new Promise<number | null>((done) => {
    child.once("close", (status) => {
      gone = true;
      looked();
      done(status);
    });
  });
  const until = (holds: () => boolean) =>
    new Promise<void>((done) => {
      const each = () => {
        if (!gone && !holds()) return;
        look = look.filter((other) => other !== each);
        done();
      };
      look.push(each);
      each();
    });
  return {
    stdout: () => stdout,
    stderr: () => stderr,
    more: (count) => {
      const wanted = lines + count;
      return until(() => lines >= wanted);
    },
    said: (text) => until(() => stderr.includes(text)),
    stop: (signal) => child.kill(signal),
    ended,
  };
}

/** How many lines of a capture the compiled `plyframe decode` calls no record. */
export async function unreadableLines(capture: string): Promise<number> {
  const child = spawn(process.execPath, [PLYFRAME, "decode", "--json", capture], {
    stdio: ["ignore", "ignore", "pipe"],
  });
  let stderr = "";
  child.stderr.setEncoding("utf8").on("data", (text: string) => (stderr += text));
  await once(child, "close");
  return stderr.split("[json-invalid]").length - 1;
}
