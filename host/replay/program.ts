/** The program under test: one process that stays alive, asked one line at a time. */
import { type ChildProcessByStdio, spawn } from "node:child_process";
import type { Readable, Writable } from "node:stream";
import { clipped, MAX_ANSWER_BYTES, type Pairs, requestLine } from "./answer.ts";
import { Lines } from "./lines.ts";

/** How an answer got lost. */
export type Loss = "not-started" | "ended" | "silent" | "endless-line" | "wrong-id" | "extra-output";

/** What came of one request: the text behind the id, or why there is none. */
export type Exchange =
  | { readonly kind: "answer"; readonly text: string }
  | { readonly kind: "lost"; readonly loss: Loss; readonly says: string };

/** How much of what the program says on standard error is kept for a report. */
const STDERR_KEPT = 2000;

type Child = ChildProcessByStdio<Writable, Readable, Readable>;

interface Open {
  readonly id: number;
  readonly timer: NodeJS.Timeout;
  readonly done: (exchange: Exchange) => void;
}

/** Starts the program when it is first asked, and again after every loss: what was lost is charged to the open request. */
export class ProgramUnderTest {
  readonly #command: readonly string[];
  #child: Child | null = null;
  #open: Open | null = null;
  #lastId = 0;
  #stderr = "";
  #starts = 0;
  /** What went wrong while nothing was asked: it is charged to the next request. */
  #before: Exchange | null = null;
  readonly #kill = () => this.#child?.kill("SIGKILL");

  /** `command`: file and arguments, started without a shell. */
  constructor(command: readonly string[]) {
    this.#command = command;
    process.once("exit", this.#kill);
  }

  /** How often it was started so far. */
  get starts(): number {
    return this.#starts;
  }

  get isRunning(): boolean {
    return this.#child !== null;
  }

  /** Asks and waits for the one answer. After a loss the program is not running until it is asked again. */
  async ask(verb: string, pairs: Pairs, timeoutMs: number): Promise<Exchange> {
    const before = this.#before;
    if (before) {
      await this.#stop();
      return before;
    }
    if (!this.#child) {
      const failed = await this.#start();
      if (failed) return failed;
    }
    const exchange = await this.#exchange(requestLine(++this.#lastId, verb, pairs), timeoutMs);
    if (exchange.kind === "lost") await this.#stop();
    return exchange;
  }

  /** Closes its input and waits for its end; false when it had to be killed, or ended with another status than 0. */
  async close(timeoutMs: number): Promise<boolean> {
    process.removeListener("exit", this.#kill);
    const child = this.#child;
    if (!child) return true;
    this.#child = null;
    const ended = exitOf(child);
    child.stdin.end();
    const timer = setTimeout(() => child.kill("SIGKILL"), timeoutMs);
    const good = (await ended) === 0;
    clearTimeout(timer);
    release(child);
    return good;
  }

  async #start(): Promise<Exchange | null> {
    this.#starts++;
    this.#stderr = "";
    const [file, ...words] = this.#command as readonly [string, ...string[]];
    const child = spawn(file, words, { stdio: ["pipe", "pipe", "pipe"], shell: false, windowsHide: true });
    const failure = await new Promise<NodeJS.ErrnoException | null>((done) => {
      child.once("spawn", () => done(null));
      child.once("error", done);
    });
    if (failure)
      return {
        kind: "lost",
        loss: "not-started",
        says: failure.code === "ENOENT" ? "there is no such program" : failure.message,
      };
    this.#child = child;
    this.#lastId = 0;
    const lines = new Lines(MAX_ANSWER_BYTES);
    child.stdout.on("data", (chunk: Buffer) => this.#take(child, lines, chunk));
    child.stderr.setEncoding("utf8").on("data", (text: string) => {
      this.#stderr = (this.#stderr + text).slice(-STDERR_KEPT);
    });
    // A write to a program that has just ended fails before its end is known.
    child.stdin.on("error", () => undefined);
    child.on("error", () => undefined);
    child.once("close", (status, signal) => {
      if (this.#child !== child) return;
      this.#child = null;
      const how = status === null ? `by ${signal}` : `with status ${status}`;
      const said = this.#stderr.trim();
      this.#lose(
        "ended",
        `the program ended ${how}${said ? `; it said: ${clipped(said.replace(/\s+/g, " "), 400)}` : ""}`,
      );
    });
    return null;
  }

  #exchange(line: string, timeoutMs: number): Promise<Exchange> {
    return new Promise((done) => {
      const timer = setTimeout(() => this.#lose("silent", `no answer within ${timeoutMs / 1000} s`), timeoutMs);
      this.#open = { id: this.#lastId, timer, done };
      this.#child?.stdin.write(`${line}\n`);
    });
  }

  #take(child: Child, lines: Lines, chunk: Buffer): void {
    if (this.#child !== child) return;
    const whole = lines.push(chunk);
    if (whole) this.#takeLines(whole, lines.pending);
    else this.#lose("endless-line", `a line longer than ${MAX_ANSWER_BYTES} bytes`);
  }

  #takeLines([first, second]: readonly string[], pending: number): void {
    if (first === undefined) return;
    const space = first.indexOf(" ");
    const id = `${this.#open?.id}`;
    if (!this.#open) this.#lose("extra-output", `output that nothing asked for: "${clipped(first)}"`);
    else if (space < 0 || first.slice(0, space) !== id) {
      this.#lose("wrong-id", `the answer does not begin with "${id} ": "${clipped(first)}"`);
    } else if (second !== undefined) {
      this.#lose("extra-output", `a second line behind the answer: "${clipped(second)}"`);
    } else if (pending > 0) this.#lose("extra-output", "more output behind the answer");
    else this.#finish({ kind: "answer", text: first.slice(space + 1) });
  }

  #lose(loss: Loss, says: string): void {
    const exchange: Exchange = { kind: "lost", loss, says };
    if (this.#open) this.#finish(exchange);
    else this.#before ??= exchange;
  }

  #finish(exchange: Exchange): void {
    const open = this.#open;
    if (!open) return;
    this.#open = null;
    clearTimeout(open.timer);
    open.done(exchange);
  }

  async #stop(): Promise<void> {
    this.#before = null;
    const child = this.#child;
    this.#child = null;
    if (!child) return;
    const ended = exitOf(child);
    child.kill("SIGKILL");
    await ended;
    release(child);
  }
}

/** Resolves with the exit status, null after a signal. */
function exitOf(child: Child): Promise<number | null> {
  return new Promise((done) => {
    if (child.exitCode !== null || child.signalCode !== null) done(child.exitCode);
    else child.once("exit", done);
  });
}

/** A grandchild may still hold the pipes: they must not keep this process alive. */
function release(child: Child): void {
  child.stdin.destroy();
  child.stdout.destroy();
  child.stderr.destroy();
}
