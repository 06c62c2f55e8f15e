/**
 * A kit of few words, for tests of the host alone: one tag with 128 words of USER memory, one report a request to start.
 * Run as a program it serves its stdin and stdout, or the port named by its argument.
 */
import type { Duplex } from "node:stream";
import { openPort } from "../../host/transport/port.ts";
import { isFault, type RawValues } from "../../protocol/codec/encode.ts";
import { rawOf } from "../../protocol/codec/record.ts";
import { layout } from "../../protocol/index.ts";
import { Deframer, encodeFrame } from "../../protocol/link/framing.ts";
import { decodeMessage, encodeMessage } from "../../protocol/link/message.ts";
import { refuse } from "../../protocol/link/refusal.ts";

type Tails = { readonly [id: string]: readonly number[] };

export const STUB_EPC = [0x3034, 0x0123, 0x4567];

export class StubKit {
  readonly memory = Array.from({ length: 128 }, (_, word) => 0x1000 + word);
  readonly heard: string[] = [];
  maxOutstanding = 4;
  linkVersion = 1;
  /** It lost its power: until a hello it takes nothing. */
  forgets = false;
  /** Messages that are heard and not answered. */
  readonly deafTo = new Set<string>();
  readonly #deframer = new Deframer();
  readonly #send: (frame: Uint8Array) => void;

  constructor(send: (frame: Uint8Array) => void) {
    this.#send = send;
  }

  receive(bytes: Uint8Array): void {
    this.#deframer.push(
      bytes,
      (body) => this.#serve(body),
      () => undefined,
    );
  }

  say(id: string, request: number, values: RawValues = {}, tails: Tails = {}): void {
    const body = encodeMessage(layout, id, "to-host", request, values, tails);
    if (isFault(body)) throw new Error(JSON.stringify(body));
    this.#send(encodeFrame(body));
  }

  #serve(body: Uint8Array): void {
    const heard = decodeMessage(layout, body, "to-kit");
    if (isFault(heard)) {
      this.#send(encodeFrame(refuse(layout, body, heard)));
      return;
    }
    const { message, request, content } = heard;
    this.heard.push(message.id);
    if (this.deafTo.has(message.id)) return;
    if (this.forgets && message.id !== "hello") {
      const early = { code: "message-not-now", byte: 0, bit: null, path: "", expected: "", actual: "" } as const;
      this.#send(encodeFrame(refuse(layout, body, early)));
      return;
    }
    const pointer = ["read", "write"].includes(message.id) ? rawOf(content, "pointer") : 0;
    switch (message.id) {
      case "hello":
        this.say("welcome", request, {
          link_version: this.linkVersion,
          max_outstanding: this.maxOutstanding,
          capabilities: 0b001110,
          power_low: 1000,
          power_high: 3000,
          barometer_uncertainty: 12,
          kit_time: 1_000_000,
        });
        return;
      case "set_power": {
        const refused = { code: "request-refused", byte: 3, bit: 0, path: "", expected: "", actual: "" } as const;
        if (rawOf(content, "power") > 3000) this.#send(encodeFrame(refuse(layout, body, refused)));
        else this.say("done", request);
        return;
      }
      case "start_inventory":
        this.say("done", request);
        this.#report(rawOf(content, "pointer"), rawOf(content, "word_count"));
        return;
      case "read": {
        const words = this.memory.slice(pointer, pointer + rawOf(content, "word_count"));
        this.#answer(request, words.length === rawOf(content, "word_count") ? 0 : 61, words);
        return;
      }
      case "write":
        this.memory.splice(pointer, content.tails.words!.length, ...content.tails.words!);
        this.#answer(request, 0, []);
        return;
      case "lock":
        this.#answer(request, 65, []);
        return;
      default:
        this.say("done", request);
    }
  }

  #answer(request: number, result: number, words: number[]): void {
    const kept = result === 0 ? words : [];
    this.say("access_answer", request, { result, word_count: kept.length, kit_time: 2_000_000 }, { words: kept });
  }

  #report(pointer: number, count: number): void {
    const values = { pc: 0x1c00, xpc: 0, rssi: -583, frequency: 866_300, bank: 3, epc_words: STUB_EPC.length };
    const read = { kit_time: 3_000_000, result: 0, pointer, word_count: count };
    this.say(
      "tag_report",
      0,
      { ...values, ...read },
      { epc: STUB_EPC, words: this.memory.slice(pointer, pointer + count) },
    );
    this.say("ambient_report", 0, { kit_time: 3_000_001, pressure: 12_969_600, temperature: -32_768 });
  }
}

/** Serves a kit on a stream until it ends. */
export function serve(stream: Duplex): StubKit {
  const kit = new StubKit((frame) => stream.write(frame));
  stream.on("data", (bytes: Uint8Array) => kit.receive(bytes));
  return kit;
}

if (process.argv[1]?.endsWith("stub-kit.ts")) {
  if (process.argv[2] === undefined) {
    const kit = new StubKit((frame) => process.stdout.write(frame));
    process.stdin.on("data", (bytes: Uint8Array) => kit.receive(bytes));
  } else {
    serve((await openPort(process.argv[2])).stream);
    process.stderr.write("serving\n");
  }
}
