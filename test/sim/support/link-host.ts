/** The host's end of the link for tests: asks a kit, sorts what it says. */
import { isFault, type RawValues } from "../../../protocol/codec/encode.ts";
import { layout } from "../../../protocol/index.ts";
import { Deframer, encodeFrame } from "../../../protocol/link/framing.ts";
import { decodeMessage, encodeMessage, type Message } from "../../../protocol/link/message.ts";
import type { Kit } from "../../../sim/index.ts";

export type Tails = { readonly [id: string]: ArrayLike<number> };

/** Link bytes of a request. */
export function requestBytes(id: string, request: number, values: RawValues = {}, tails: Tails = {}): Uint8Array {
  const body = encodeMessage(layout, id, "to-kit", request, values, tails);
  if (isFault(body)) throw new Error(`${body.path}: ${body.code}`);
  return encodeFrame(body);
}

/** Every message in link bytes a kit said; a damaged one fails the test. */
export function messagesIn(bytes: Uint8Array): Message[] {
  const messages: Message[] = [];
  const deframer = new Deframer();
  const fail = (fault: object) => {
    throw new Error(`the kit said something damaged: ${JSON.stringify(fault)}`);
  };
  deframer.push(
    bytes,
    (body) => {
      const message = decodeMessage(layout, body, "to-host");
      if (isFault(message)) fail(message);
      else messages.push(message);
    },
    fail,
  );
  deframer.end(fail);
  return messages;
}

/** A host that has said hello. */
export class LinkHost {
  readonly #kit: Kit;
  #request = 1;
  #nowUs = 0;
  /** Everything the kit said, in order. */
  readonly heard: Message[] = [];

  constructor(kit: Kit) {
    this.#kit = kit;
    this.say("hello", { link_version: 1, max_outstanding: 255 });
  }

  get nowUs(): number {
    return this.#nowUs;
  }

  /** Sends a request without waiting; its id. */
  say(id: string, values: RawValues = {}, tails: Tails = {}): number {
    this.#kit.receive(requestBytes(id, this.#request, values, tails));
    return this.#request++;
  }

  /** Lets kit time pass and listens. */
  wait(us: number): Message[] {
    this.#nowUs += us;
    this.#kit.advance(this.#nowUs);
    const messages = messagesIn(this.#kit.take());
    this.heard.push(...messages);
    return messages;
  }

  /** The answer to a request, for which it waits two seconds of kit time at most. */
  ask(id: string, values: RawValues = {}, tails: Tails = {}): Message {
    const request = this.say(id, values, tails);
    for (let i = 0; i < 200; i++) {
      const answer = this.wait(10_000).find((message) => message.request === request);
      if (answer) return answer;
    }
    throw new Error(`no answer to ${id}`);
  }
}
