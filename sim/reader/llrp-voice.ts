/** What a simulated LLRP reader says: answers, events and errors as bytes, in its version of the moment. */
import { encodeLlrp } from "../../protocol/llrp/encode.ts";
import { statusCode } from "../../protocol/llrp/status.ts";
import { element, type LlrpElement, type LlrpMessage, type LlrpValues } from "../../protocol/llrp/vocabulary.ts";
import { sentence } from "../../protocol/model/reasons.ts";

export class LlrpVoice {
  /** 1 is LLRP 1.0.1, 2 is 1.1. */
  version = 1;
  readonly #startUtcUs: bigint;
  #ownId = 0;
  #said: Uint8Array[] = [];

  /** `startUtcUs`: UTC at kit time 0. */
  constructor(startUtcUs: bigint) {
    this.#startUtcUs = startUtcUs;
  }

  utcUs(timeUs: number): bigint {
    return this.#startUtcUs + BigInt(timeUs);
  }

  /** Bytes said since the last call. */
  take(): Uint8Array {
    const bytes = new Uint8Array(this.#said.reduce((sum, { length }) => sum + length, 0));
    let at = 0;
    for (const message of this.#said) {
      bytes.set(message, at);
      at += message.length;
    }
    this.#said = [];
    return bytes;
  }

  /** `status`: its name; success is M_Success. */
  answer(
    { name, id }: LlrpMessage,
    status: string,
    says: string,
    values: LlrpValues = {},
    parameters: readonly LlrpElement[] = [],
  ): void {
    const full = name === "GET_SUPPORTED_VERSION" ? { CurrentVersion: 0, SupportedVersion: 0, ...values } : values;
    this.#send(element(`${name}_RESPONSE`, full, [statusOf(status, says), ...parameters]), id);
  }

  /** About the message of that number, of which nothing could be made. */
  error(id: number, status: string, says: string): void {
    this.#send(element("ERROR_MESSAGE", {}, [statusOf(status, says)]), id);
  }

  event(nowUs: number, name: string, values: LlrpValues): void {
    const data = [element("UTCTimestamp", { Microseconds: this.utcUs(nowUs) }), element(name, values)];
    this.say("READER_EVENT_NOTIFICATION", {}, [element("ReaderEventNotificationData", {}, data)]);
  }

  say(name: string, values: LlrpValues = {}, parameters: readonly LlrpElement[] = []): void {
    this.#send(element(name, values, parameters), ++this.#ownId);
  }

  /** Throws an Error for a value LLRP cannot carry, which only a scenario can bring about. */
  #send(message: LlrpElement, id: number): void {
    const bytes = encodeLlrp(message, this.version, id);
    if ("code" in bytes) throw new Error(sentence(bytes));
    this.#said.push(bytes);
  }
}

function statusOf(name: string, says: string): LlrpElement {
  return element("LLRPStatus", { StatusCode: statusCode(name), ErrorDescription: says });
}
