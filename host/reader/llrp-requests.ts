/** Requests to an LLRP reader under way, by their message ids. */
import { encodeLlrp } from "../../protocol/llrp/encode.ts";
import { statusText } from "../../protocol/llrp/status.ts";
import { type LlrpElement, type LlrpMessage, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import { type Fault, sentence } from "../../protocol/model/reasons.ts";
import type { Clock } from "./clock.ts";
import { ReaderError } from "./reader-error.ts";

interface Pending {
  readonly name: string;
  readonly resolve: (answer: LlrpMessage) => void;
  readonly reject: (error: ReaderError) => void;
  readonly cancel: () => void;
}

export class LlrpRequests {
  /** Answers that fitted no request under way. */
  late = 0;
  /** Version of the messages sent: 1 is LLRP 1.0.1, 2 is 1.1. */
  version = 1;
  readonly #clock: Clock;
  readonly #timeoutMs: number;
  readonly #send: (bytes: Uint8Array) => void;
  readonly #underWay = new Map<number, Pending>();
  #lastId = 0;
  #closed: ReaderError | undefined;

  constructor(clock: Clock, timeoutMs: number, send: (bytes: Uint8Array) => void) {
    this.#clock = clock;
    this.#timeoutMs = timeoutMs;
    this.#send = send;
  }

  /** The answer, whose status is success. Rejects with a ReaderError when it is not, or when none comes in time. */
  ask(request: LlrpElement, version = this.version): Promise<LlrpMessage> {
    if (this.#closed) return Promise.reject(this.#closed);
    const id = (this.#lastId = (this.#lastId % 0xffff_ffff) + 1);
    const bytes = encodeLlrp(request, version, id);
    if ("code" in bytes) return Promise.reject(new ReaderError(sentence(bytes), bytes));
    return new Promise((resolve, reject) => {
      const cancel = this.#clock.after(this.#timeoutMs, () => this.#timeOut(id));
      this.#underWay.set(id, { name: request.name, resolve, reject, cancel });
      this.#send(bytes);
    });
  }

  /** Says something that has no answer. */
  say(message: LlrpElement, id: number): void {
    const bytes = encodeLlrp(message, this.version, id);
    if (!("code" in bytes)) this.#send(bytes);
  }

  /** Takes an answer or an ERROR_MESSAGE; false when it is about no request under way. */
  answer(message: LlrpMessage): boolean {
    const pending = this.#underWay.get(message.id);
    if (!pending) {
      this.late++;
      return false;
    }
    this.#underWay.delete(message.id);
    pending.cancel();
    const status = parameterOf(message, "LLRPStatus");
    const refused = message.name === "ERROR_MESSAGE" || (status && numberOf(status, "StatusCode") !== 0);
    if (refused) {
      const actual = status ? statusText(status) : message.name;
      pending.reject(refusal(`the reader refused ${pending.name}: ${actual}`, "llrp-status", pending.name, actual));
    } else if (message.name !== `${pending.name}_RESPONSE`) {
      const says = `${pending.name} was answered with ${message.name}`;
      pending.reject(refusal(says, "message-not-now", pending.name, message.name));
    } else pending.resolve(message);
    return true;
  }

  /** Rejects everything, now and later. */
  close(error: ReaderError): void {
    this.#closed = error;
    for (const { cancel, reject } of this.#underWay.values()) {
      cancel();
      reject(error);
    }
    this.#underWay.clear();
  }

  #timeOut(id: number): void {
    const { name, reject } = this.#underWay.get(id)!;
    this.#underWay.delete(id);
    const says = `no answer to ${name} in ${this.#timeoutMs} ms`;
    reject(refusal(says, "request-timed-out", name, "none"));
  }
}

function refusal(says: string, code: Fault["code"], path: string, actual: string): ReaderError {
  return new ReaderError(says, { code, byte: 0, bit: null, path, expected: `${path}_RESPONSE with success`, actual });
}
