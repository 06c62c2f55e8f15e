/** A connection with an LLRP reader: greeting, requests, keep-alives and its end. What the reader says goes to its owner. */
import { LlrpStream } from "../../protocol/llrp/stream.ts";
import { element, type LlrpElement, type LlrpMessage } from "../../protocol/llrp/vocabulary.ts";
import type { Fault } from "../../protocol/model/reasons.ts";
import type { Port } from "../transport/port.ts";
import { portError } from "../transport/port-error.ts";
import type { Clock } from "./clock.ts";
import { LlrpRequests } from "./llrp-requests.ts";
import { ReaderError } from "./reader-error.ts";

export interface LlrpConnectionTimes {
  /** How long an answer may take. */
  readonly timeoutMs: number;
  /** How often the reader shows that it is there; after two and a half times this of silence it is lost. */
  readonly keepAliveMs: number;
}

/** Who is told what comes over a connection. */
export interface LlrpOwner {
  /** Every message, before anything is done about it. */
  readonly onMessage: (message: LlrpMessage) => void;
  readonly onFault: (fault: Fault) => void;
  /** Once, before requests are rejected: `reason` as in the reader's `closed`, `error` for what was asked. */
  readonly onEnd: (reason: string | null, error: ReaderError) => void;
}

const CONNECTION = [
  "accepted",
  "the reader already has a connection it made itself",
  "another client has the reader",
  "the reader says no",
  "another client is trying",
];

export class LlrpConnection {
  readonly requests: LlrpRequests;
  readonly #port: Port;
  readonly #clock: Clock;
  readonly #times: LlrpConnectionTimes;
  readonly #owner: LlrpOwner;
  readonly #stream: LlrpStream;
  readonly #greeting: Promise<number>;
  #greeted: (status: number) => void = () => undefined;
  #refused: (error: Error) => void = () => undefined;
  #misunderstood = 0;
  #closed = false;
  #cancelWatch: () => void = () => undefined;

  /** Takes over the port; its stream must not be read elsewhere. */
  constructor(port: Port, clock: Clock, times: LlrpConnectionTimes, owner: LlrpOwner) {
    this.#port = port;
    this.#clock = clock;
    this.#times = times;
    this.#owner = owner;
    this.requests = new LlrpRequests(clock, times.timeoutMs, (bytes) => void port.stream.write(bytes));
    this.#stream = new LlrpStream({
      onMessage: (message) => this.#take(message),
      onFault: (fault) => owner.onFault(fault),
    });
    this.#greeting = new Promise((resolve, reject) => {
      this.#greeted = resolve;
      this.#refused = reject;
    });
    this.#greeting.catch(() => undefined);
    port.stream.on("error", (error) => this.#cut(portError("lost", port.name, error).message));
    port.stream.on("end", () => this.#cut(`lost ${port.name}: the other end closed the connection`));
    port.stream.on("close", () => this.#cut(`lost ${port.name}: the port was closed`));
  }

  get isClosed(): boolean {
    return this.#closed;
  }

  /** Damaged stretches, and messages that could not be understood. */
  get faults(): number {
    return this.#stream.counts.faults + this.#misunderstood;
  }

  get discardedBytes(): number {
    const { discarded, refused } = this.#stream.counts;
    return discarded + refused;
  }

  /** Waits until the reader says that it takes the connection. Rejects with a ReaderError when it does not. */
  async greet(): Promise<void> {
    this.#port.stream.on("data", (chunk: Uint8Array) => this.#receive(chunk));
    const cancel = this.#clock.after(this.#times.timeoutMs, () =>
      this.#refused(this.error("request-timed-out", "READER_EVENT_NOTIFICATION", "no greeting: is it an LLRP reader?")),
    );
    const status = await this.#greeting.finally(cancel);
    if (status !== 0)
      throw this.error("request-refused", "ConnectionAttemptEvent", CONNECTION[status] ?? `status ${status}`);
  }

  /** Counts and tells what is well formed but makes no sense. */
  misunderstand(fault: Fault): void {
    this.#misunderstood++;
    this.#owner.onFault(fault);
  }

  /** `says` follows the port's name. */
  error(code: Fault["code"], path: string, says: string): ReaderError {
    const fault: Fault = { code, byte: 0, bit: null, path, expected: "success", actual: says };
    return new ReaderError(`${this.#port.name} ${says}`, fault);
  }

  /** Lets go of the port; null: because it was asked to. */
  end(reason: string | null): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#cancelWatch();
    const error = this.error("link-closed", "LLRP", reason ?? "was closed");
    const closed = new ReaderError(reason ?? error.message, error.fault);
    this.#refused(closed);
    this.#owner.onEnd(reason, closed);
    this.requests.close(closed);
    this.#port.stream.destroy();
  }

  #receive(chunk: Uint8Array): void {
    if (this.#closed) return;
    this.#watch();
    this.#stream.push(chunk);
    if (this.#stream.lost) this.end(`lost ${this.#port.name}: what it says is no LLRP any more`);
  }

  /** Silence is the loss of the line only once keep-alives were asked for, which the answers to requests cover before. */
  #watch(): void {
    this.#cancelWatch();
    this.#cancelWatch = this.#clock.after(2.5 * this.#times.keepAliveMs, () =>
      this.end(`lost ${this.#port.name}: the reader no longer answers`),
    );
  }

  #take(message: LlrpMessage): void {
    if (this.#closed) return;
    this.#owner.onMessage(message);
    switch (message.name) {
      case "KEEPALIVE":
        this.requests.say(element("KEEPALIVE_ACK"), message.id);
        return;
      case "READER_EVENT_NOTIFICATION":
        this.#event(message.parameters[0]!);
        return;
      case "RO_ACCESS_REPORT":
        return;
      default:
        if (this.requests.answer(message) || message.name !== "ERROR_MESSAGE") return;
        this.misunderstand(this.error("llrp-status", "ERROR_MESSAGE", "complains of what was not asked").fault);
    }
  }

  #event(data: LlrpElement): void {
    for (const { name, values } of data.parameters) {
      if (name === "ConnectionAttemptEvent") this.#greeted(values.Status as number);
      else if (name === "ConnectionCloseEvent") this.end(`lost ${this.#port.name}: the reader closed the connection`);
      else if (name === "ReportBufferOverflowErrorEvent") {
        this.misunderstand(this.error("llrp-status", name, "lost reports: its buffer ran over").fault);
      } else if (name === "ReaderExceptionEvent") {
        this.misunderstand(this.error("llrp-status", name, String(values.Message)).fault);
      }
    }
  }

  /** The stream came to its end, so that half a message is damage and not just early. */
  #cut(reason: string): void {
    if (!this.#closed) this.#stream.end();
    this.end(reason);
  }
}
