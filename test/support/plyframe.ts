/** The compiled program, started as a person would start it. */
import { type ChildProcessByStdio, spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import type { Readable, Writable } from "node:stream";
import { onTestFinished } from "vitest";

export const PROGRAM = resolve(import.meta.dirname, "../../dist/command/main.js");

export interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface RunOptions {
  readonly input?: string | Uint8Array;
  readonly cwd?: string;
  /** In a process group of its own, so that `stop` reaches what a shell started. */
  readonly group?: boolean;
  readonly env?: { readonly [name: string]: string };
}

export interface Running {
  readonly child: ChildProcessByStdio<Writable, Readable, Readable>;
  /** Resolves once stdout or stderr holds the pattern; rejects when the program ends before. */
  said(pattern: RegExp): Promise<RegExpMatchArray>;
  readonly ended: Promise<Ended>;
  stop(signal: NodeJS.Signals): void;
}

/** Starts any program; it is ended with the test. */
export function startProgram(command: string, words: readonly string[], options: RunOptions = {}): Running {
  const child = spawn(command, words, {
    stdio: ["pipe", "pipe", "pipe"],
    cwd: options.cwd,
    detached: options.group === true,
    env: { ...process.env, ...options.env },
  });
  let stdout = "";
  let stderr = "";
  child.stdout.setEncoding("utf8").on("data", (text: string) => (stdout += text));
  child.stderr.setEncoding("utf8").on("data", (text: string) => (stderr += text));
  child.stdin.on("error", () => undefined);
  if (options.input !== undefined) child.stdin.end(options.input);
  const ended = new Promise<Ended>((done) => child.once("close", (status) => done({ status, stdout, stderr })));
  const stop = (signal: NodeJS.Signals) => {
    if (child.exitCode !== null || child.signalCode !== null) return;
    if (options.group) process.kill(-child.pid!, signal);
    else child.kill(signal);
  };
  onTestFinished(async () => {
    stop("SIGKILL");
    await ended;
  });
  const said = (pattern: RegExp) =>
    new Promise<RegExpMatchArray>((done, fail) => {
      const look = () => {
        const found = pattern.exec(stdout) ?? pattern.exec(stderr);
        if (found) done(found);
      };
      child.stdout.on("data", look);
      child.stderr.on("data", look);
      child.once("close", () => fail(new Error(`ended without saying ${pattern}: ${stderr}`)));
      look();
    });
  return { child, said, ended, stop };
}

export function start(words: readonly string[], options: RunOptions = {}): Running {
  return startProgram(process.execPath, [PROGRAM, ...words], options);
}

/** Runs to the end, with nothing on standard input unless given. */
export function plyframe(words: readonly string[], options: RunOptions = {}): Promise<Ended> {
  return start(words, { input: "", ...options }).ended;
}

export interface TcpKit {
  /** What --port takes. */
  readonly port: string;
  /** The TCP port alone. */
  readonly number: number;
  readonly kit: Running;
}

/** A kit on a TCP port of its own choice. */
export async function tcpKit(...more: string[]): Promise<TcpKit> {
  const kit = start(["kit", "--listen", "tcp:127.0.0.1:0", ...more]);
  const [port, number] = await kit.said(/tcp:127\.0\.0\.1:(\d+)/);
  return { port: port!, number: Number(number), kit };
}

/** An `exec:` port of the compiled kit. */
export function execKit(...more: string[]): string {
  return `exec:"${process.execPath}" "${PROGRAM}" kit ${more.join(" ")}`;
}

/** A folder that is there for one test. */
export function testFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-cli-"));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Lines of a text, without the empty one behind the last line end. */
export function linesOf(text: string): string[] {
  return text.replace(/\n$/, "").split("\n");
}

/** Messages that begin with the program's name: what went wrong, one sentence a line. */
export function complaints({ stderr }: Ended): string[] {
  return linesOf(stderr).filter((line) => line.startsWith("plyframe: "));
}

export const LEG = resolve(import.meta.dirname, "../../vectors/captures/training-leg.jsonl");
export const legLines: readonly string[] = linesOf(readFileSync(LEG, "utf8"));
