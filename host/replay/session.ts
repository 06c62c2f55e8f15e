/** One run's conversation with the program under test: greeting, restarts, and their limits. */
import type { Pairs } from "./answer.ts";
import { type Greeting, HELLO, parseGreeting } from "./greeting.ts";
import { type Exchange, ProgramUnderTest } from "./program.ts";

/** Losses in a row, and in all, after which a run gives the program up; silence costs the whole wait each time. */
export interface Patience {
  readonly inARow: number;
  readonly inAll: number;
}

const MAX_SILENT_IN_A_ROW = 10;

/** Least wait for the answer to hello: a program may take its time to start. */
const START_MS = 30_000;

/** For vectors, each of which is asked once. */
export const VECTORS_PATIENCE: Patience = { inARow: 10, inAll: 100 };

/** For shrinking, which asks nearly the same again and again on purpose. */
export const ROUNDS_PATIENCE: Patience = { inARow: 300, inAll: 3000 };

/** What `Session.open` gives: a session, or one sentence why the program cannot be tested. */
export type Opened = { readonly session: Session } | { readonly failure: string };

export class Session {
  readonly greeting: Greeting;
  readonly #program: ProgramUnderTest;
  readonly #patience: Patience;
  readonly #timeoutMs: number;
  #inARow = 0;
  #silentInARow = 0;
  #losses = 0;

  private constructor(program: ProgramUnderTest, greeting: Greeting, timeoutMs: number, patience: Patience) {
    this.#program = program;
    this.#timeoutMs = timeoutMs;
    this.greeting = greeting;
    this.#patience = patience;
  }

  /** Starts the program and greets it. `timeoutMs`: for each request, and for its end. */
  static async open(command: readonly string[], timeoutMs: number, patience: Patience): Promise<Opened> {
    const program = new ProgramUnderTest(command);
    const exchange = await greet(program, timeoutMs);
    const greeting = exchange.kind === "lost" ? exchange.says : parseGreeting(exchange.text);
    if (typeof greeting !== "string") return { session: new Session(program, greeting, timeoutMs, patience) };
    await program.close(timeoutMs);
    return { failure: greeting };
  }

  /** Times the program was started again after a loss. */
  get restarts(): number {
    return this.#program.starts - 1;
  }

  /** Why nothing more is asked; null while the run goes on. */
  get givenUp(): string | null {
    const { inARow, inAll } = this.#patience;
    if (this.#silentInARow >= MAX_SILENT_IN_A_ROW) return `given up after ${MAX_SILENT_IN_A_ROW} silences in a row`;
    if (this.#inARow >= inARow) return `given up after ${inARow} lost answers in a row`;
    return this.#losses >= inAll ? `given up after ${inAll} lost answers` : null;
  }

  /** Asks one request; a program that was lost is started and greeted again first. */
  async ask(verb: string, pairs: Pairs): Promise<Exchange> {
    const exchange = (await this.#greetAgain()) ?? (await this.#program.ask(verb, pairs, this.#timeoutMs));
    if (exchange.kind === "answer") {
      this.#inARow = 0;
      this.#silentInARow = 0;
      return exchange;
    }
    this.#inARow++;
    this.#losses++;
    this.#silentInARow = exchange.loss === "silent" ? this.#silentInARow + 1 : 0;
    return exchange;
  }

  /** Ends the program; false when it did not end well by itself once its input was closed. */
  close(): Promise<boolean> {
    return this.#program.close(this.#timeoutMs);
  }

  async #greetAgain(): Promise<Exchange | null> {
    if (this.#program.isRunning) return null;
    const exchange = await greet(this.#program, this.#timeoutMs);
    if (exchange.kind === "lost") return exchange;
    const greeting = parseGreeting(exchange.text);
    return typeof greeting === "string" ? { kind: "lost", loss: "ended", says: `started again: ${greeting}` } : null;
  }
}

function greet(program: ProgramUnderTest, timeoutMs: number): Promise<Exchange> {
  return program.ask("hello", HELLO, Math.max(START_MS, timeoutMs));
}
