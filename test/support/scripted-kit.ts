/** A reader kit on a TCP port of the test's own process, which does on every connection what the test has written down. */
import { createServer, type Socket } from "node:net";
import { onTestFinished } from "vitest";
import { isFault, type RawValues } from "../../protocol/codec/encode.ts";
import { rawOf } from "../../protocol/codec/record.ts";
import { layout } from "../../protocol/index.ts";
import { Deframer, encodeFrame } from "../../protocol/link/framing.ts";
import { decodeMessage, encodeMessage, type Message } from "../../protocol/link/message.ts";
import { refuse } from "../../protocol/link/refusal.ts";
import { type Asked, BANK_NAMES, type Did, type ScriptedTag } from "./scripted-tag.ts";

/** A tag report, said when rounds begin. */
export interface Sight {
  readonly timeUs: number;
  readonly epc: readonly number[];
  readonly rssiDbm?: number;
  readonly result?: string;
  readonly words?: readonly number[];
}

/** What becomes of one connection. */
export interface Scene {
  /** Messages that are answered with an error, or with a message that answers something else. */
  readonly refuses?: readonly string[];
  readonly misanswers?: readonly string[];
  /** Said when rounds begin. */
  readonly sights?: readonly Sight[];
  /** Kit time of an ambient report behind the sights; none when left out. */
  readonly ambientUs?: number;
  /** The line is cut once that message was answered. */
  readonly cutAfter?: string;
}

/** The link's numbers for results of accesses. */
const RESULTS: { readonly [name: string]: number } = {
  ...{ done: 0, not_asked: 1, tag_lost: 60, tag_memory_overrun: 61, tag_memory_locked: 62 },
  ...{ tag_power_insufficient: 63, tag_error: 64, password_wrong: 65 },
};

export class ScriptedKit {
  /** `tcp:127.0.0.1:port`. */
  port = "";
  /** Messages heard, in order, over all connections. */
  readonly heard: string[] = [];
  /** Accesses that reached the tag, such as `write user 56`. */
  readonly journal: string[] = [];
  connections = 0;
  /** What the access of that number, from 0 on, comes to instead: a result, with or without being done; or the line is cut. */
  spoil: (access: number, asked: Asked) => { readonly result: string; readonly done: boolean } | "cut" | null = () =>
    null;
  readonly #scenes: readonly Scene[];
  readonly #tag: ScriptedTag | null;
  #accesses = 0;

  /** The last scene is played again for every connection after it. `tag` null: every access finds none. */
  constructor(scenes: readonly Scene[], tag: ScriptedTag | null = null) {
    this.#scenes = scenes;
    this.#tag = tag;
  }

  async listen(): Promise<this> {
    const sockets = new Set<Socket>();
    const server = createServer((socket) => {
      sockets.add(socket);
      this.#serve(socket, this.#scenes[Math.min(this.connections++, this.#scenes.length - 1)]!);
    });
    onTestFinished(() => {
      for (const socket of sockets) socket.destroy();
      server.close();
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    this.port = `tcp:127.0.0.1:${(server.address() as { port: number }).port}`;
    return this;
  }

  #serve(socket: Socket, scene: Scene): void {
    const deframer = new Deframer();
    socket.on("error", () => undefined);
    socket.on("data", (bytes: Uint8Array) =>
      deframer.push(
        bytes,
        (body) => {
          const message = decodeMessage(layout, body, "to-kit");
          if (isFault(message)) throw new Error(JSON.stringify(message));
          this.#hear(socket, scene, message, body);
        },
        () => undefined,
      ),
    );
  }

  #hear(socket: Socket, scene: Scene, { message, request, content }: Message, body: Uint8Array): void {
    const { id } = message;
    this.heard.push(id);
    const say = (what: string, answers: number, values: RawValues = {}, tails = {}) => {
      const said = encodeMessage(layout, what, "to-host", answers, values, tails);
      if (isFault(said)) throw new Error(JSON.stringify(said));
      socket.write(encodeFrame(said));
    };
    if (scene.misanswers?.includes(id)) say("done", request);
    else if (scene.refuses?.includes(id)) {
      const fault = { code: "request-refused", byte: 0, bit: null, path: "", expected: "", actual: "" } as const;
      socket.write(encodeFrame(refuse(layout, body, fault)));
    } else if (id === "hello") say("welcome", request, WELCOME);
    else if (["read", "write", "block_write", "lock"].includes(id)) {
      const asked = askedOf(id as Asked["kind"], content);
      const did = this.#access(asked);
      if (did === "cut") return void socket.destroy();
      const values = { result: RESULTS[did.result]!, word_count: did.words.length, kit_time: 2_000_000 };
      say("access_answer", request, values, { words: did.words });
    } else say("done", request);
    if (id === "start_inventory") for (const sight of scene.sights ?? []) say("tag_report", 0, ...reportOf(sight));
    if (id === "start_inventory" && scene.ambientUs !== undefined)
      say("ambient_report", 0, { kit_time: scene.ambientUs, pressure: 12_969_600, temperature: -32_768 });
    if (scene.cutAfter === id) socket.end();
  }

  #access(asked: Asked): Did | "cut" {
    const spoilt = this.spoil(this.#accesses++, asked);
    if (spoilt === "cut") return "cut";
    const lost = this.#tag === null || (spoilt !== null && !spoilt.done);
    const did = this.#tag === null || lost ? { result: "tag_lost", words: [] } : this.#tag.carryOut(asked);
    const { kind, bank, word } = asked;
    if (!lost && did.result === "done") this.journal.push(kind === "lock" ? kind : `${kind} ${bank} ${word}`);
    return spoilt ? { result: spoilt.result, words: [] } : did;
  }
}

const WELCOME = {
  ...{ link_version: 1, max_outstanding: 4, capabilities: 0b001110, power_low: 1000, power_high: 3000 },
  ...{ barometer_uncertainty: 12, kit_time: 0 },
};

function askedOf(kind: Asked["kind"], content: Message["content"]): Asked {
  const of = (field: string) => rawOf(content, field);
  const lock = kind === "lock";
  return {
    kind,
    password: of("password"),
    bank: lock ? "user" : BANK_NAMES[of("bank")]!,
    word: lock ? 0 : of("pointer"),
    count: lock ? 0 : of("word_count"),
    words: content.tails.words ?? [],
    mask: lock ? of("mask") : 0,
    action: lock ? of("action") : 0,
  };
}

function reportOf({ timeUs, epc, rssiDbm = -58.3, result, words = [] }: Sight): [RawValues, object] {
  const values = {
    ...{ kit_time: timeUs, pc: epc.length << 11, xpc: 0, rssi: Math.round(rssiDbm * 10), frequency: 866_300 },
    ...{ result: RESULTS[result ?? (words.length > 0 ? "done" : "not_asked")]!, bank: 3, pointer: 0 },
    ...{ word_count: words.length, epc_words: epc.length },
  };
  return [values, { epc, words }];
}
