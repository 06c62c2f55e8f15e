/** Requests under way: ids, time-outs, repetition where that is harmless, and no more at once than agreed. */
import { isFault, type RawValues } from "../../protocol/codec/encode.ts";
import { encodeMessage, type Message } from "../../protocol/link/message.ts";
import type { Layout } from "../../protocol/model/layout.ts";
import { type Fault, reasons, sentence } from "../../protocol/model/reasons.ts";
import type { Clock } from "./clock.ts";
import { ReaderError } from "./reader-error.ts";

export interface Question {
  /** Id of a message to the kit. */
  readonly id: string;
  readonly values: RawValues;
  readonly tails: { readonly [id: string]: ArrayLike<number> };
  /** How often it is asked before nothing answers: more than once only what does the same whether it is done once or twice. */
  readonly tries: number;
}

interface Pending {
  readonly question: Question;
  asked: number;
  readonly resolve: (answer: Message) => void;
  readonly reject: (error: ReaderError) => void;
  cancel: () => void;
}

const MAX_ID = 0xffff;

export class RequestQueue {
  /** Requests that may be under way at once. */
  limit = 1;
  /** Answers that fitted no request under way. */
  late = 0;
  readonly #layout: Layout;
  readonly #clock: Clock;
  readonly #timeoutMs: number;
  readonly #send: (body: Uint8Array) => void;
  readonly #waiting: Pending[] = [];
  readonly #underWay = new Map<number, Pending>();
  #lastId = 0;
  #closed: ReaderError | undefined;

  constructor(layout: Layout, clock: Clock, timeoutMs: number, send: (body: Uint8Array) => void) {
    this.#layout = layout;
    this.#clock = clock;
    this.#timeoutMs = timeoutMs;
    this.#send = send;
  }

  /** Whether nothing is under way or waiting. */
  get idle(): boolean {
    return this.#underWay.size === 0 && this.#waiting.length === 0;
  }

  ask(question: Question): Promise<Message> {
    if (this.#closed) return Promise.reject(this.#closed);
    return new Promise((resolve, reject) => {
      this.#waiting.push({ question, asked: 0, resolve, reject, cancel: () => undefined });
      this.#sendNext();
    });
  }

  /** Takes an answer to a request; counts it as late when no such request is under way. */
  answer(answer: Message): void {
    const pending = this.#take(answer.request);
    if (!pending) return;
    const expected = this.#layout.messages.find(({ id }) => id === pending.question.id)!.answer!;
    if (answer.message.id === expected) {
      pending.resolve(answer);
    } else {
      const actual = answer.message.id;
      const fault: Fault = { code: "message-not-now", byte: 0, bit: null, path: pending.question.id, expected, actual };
      pending.reject(
        new ReaderError(`${pending.question.id} was answered with ${actual} instead of ${expected}`, fault),
      );
    }
    this.#sendNext();
  }

  /** Takes a refusal of a request. */
  refuse(request: number, fault: Fault): void {
    const pending = this.#take(request);
    if (!pending) return;
    const says = `the reader refused ${pending.question.id}: ${reasons[fault.code].says} [${fault.code}]`;
    pending.reject(new ReaderError(says, fault));
    this.#sendNext();
  }

  /** Rejects everything, now and later. */
  close(error: ReaderError): void {
    this.#closed = error;
    const all = [...this.#underWay.values(), ...this.#waiting];
    this.#underWay.clear();
    this.#waiting.length = 0;
    for (const pending of all) {
      pending.cancel();
      pending.reject(error);
    }
  }

  #take(request: number): Pending | undefined {
    const pending = this.#underWay.get(request);
    if (!pending) {
      this.late++;
      return undefined;
    }
    this.#underWay.delete(request);
    pending.cancel();
    return pending;
  }

  #sendNext(): void {
    while (!this.#closed && this.#underWay.size < this.limit) {
      const pending = this.#waiting.shift();
      if (!pending) return;
      const { id, values, tails } = pending.question;
      const request = this.#freeId();
      const body = encodeMessage(this.#layout, id, "to-kit", request, values, tails);
      if (isFault(body)) {
        pending.reject(new ReaderError(sentence(body), body));
        continue;
      }
      pending.asked++;
      this.#underWay.set(request, pending);
      pending.cancel = this.#clock.after(this.#timeoutMs, () => this.#timeOut(request, pending));
      this.#send(body);
    }
  }

  #timeOut(request: number, pending: Pending): void {
    this.#underWay.delete(request);
    const { id, tries } = pending.question;
    if (pending.asked < tries) {
      this.#waiting.unshift(pending);
    } else {
      const times = tries === 1 ? "" : `, asked ${tries} times`;
      const expected = `an answer in ${this.#timeoutMs} ms`;
      const fault: Fault = { code: "request-timed-out", byte: 0, bit: null, path: id, expected, actual: "none" };
      pending.reject(new ReaderError(`no answer to ${id} in ${this.#timeoutMs} ms${times}`, fault));
    }
    this.#sendNext();
  }

  /** The next id that is not under way; 0 is kept for what nobody asked. An id is not used again until all others were. */
  #freeId(): number {
    do this.#lastId = (this.#lastId % MAX_ID) + 1;
    while (this.#underWay.has(this.#lastId));
    return this.#lastId;
  }
}
