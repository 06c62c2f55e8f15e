/** Programs of a load run: the kit with many tags and the compiled `plyframe read`, each a process of its own. */
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { resolve } from "node:path";

const PLYFRAME = resolve(import.meta.dirname, "../../dist/host/cli/main.js");
const TSX = import.meta.resolve("tsx");
const KIT = resolve(import.meta.dirname, "kit-process.ts");

export interface KitOptions {
  readonly device: string;
  readonly tags: number;
  readonly speed: number;
  /** Share of the pieces of bytes that the line spoils. */
  readonly noise: number;
  readonly seed: number;
  readonly truth: string;
}

/** Starts a kit; resolves when it has its device open. */
export async function startKit({ device, tags, speed, noise, seed, truth }: KitOptions): Promise<ChildProcess> {
  const words = [device, tags, speed, noise, seed].map(String);
  const kit = spawn(process.execPath, ["--import", TSX, KIT, ...words, truth], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  await once(kit.stdout!, "data");
  return kit;
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

/** Starts `plyframe read --json`; `fileBlocks`: files it writes can grow to so many kilobytes (ulimit -f of bash). */
export function startRead(device: string, capture: string, fileBlocks: number | null = null): ReadRun {
  const words = [
    PLYFRAME,
    "read",
    "--json",
    "--port",
    device,
    "--capture",
    capture,
    "--period",
    "10",
    "--retry",
    "600",
  ];
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
