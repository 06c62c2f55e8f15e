/** The simulated reader kit: link bytes in, link bytes out, moved along by kit time. */
import { isFault, type RawValues } from "../../protocol/codec/encode.ts";
import { type DecodedRecord, nameOf, physicalOf, rawOf } from "../../protocol/codec/record.ts";
import { layout } from "../../protocol/index.ts";
import { Deframer, encodeFrame } from "../../protocol/link/framing.ts";
import { decodeMessage, encodeMessage, type Message } from "../../protocol/link/message.ts";
import { refuse } from "../../protocol/link/refusal.ts";
import { type Fault, type Reason, sentence } from "../../protocol/model/reasons.ts";
import { LINK_VERSION } from "../../protocol/spec/link.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Tag } from "../tag/tag.ts";
import { fieldOf, flagBits, rawOfValue, rawOfWord } from "../tag/words.ts";
import { accessOf } from "./access-of.ts";
import { Barometer } from "./barometer.ts";
import { CHANNEL_RULES, isChannelPlan } from "./channel-rule.ts";
import type { Interrogator } from "./interrogator.ts";
import { airOf } from "./kit-air.ts";
import type { PasswordedAccess, Sighting } from "./orders.ts";
import type { AccessResult } from "./singulated.ts";
import { POWER_HIGH_DBM, POWER_LOW_DBM, type Transmitter } from "./transmitter.ts";

export interface Kit {
  /** Takes link bytes that arrive at the kit's present time, cut anywhere. Nothing in them makes it throw. */
  receive(bytes: Uint8Array): void;
  /** Lives on to kit time `toUs`; the fraction of a microsecond is dropped. Throws RangeError when that is in the past. */
  advance(toUs: number): void;
  /** Link bytes said since the last call. */
  take(): Uint8Array;
}

/** A kit at time 0 with the scenario's tags before it: the same scenario, bytes and times give the same answers. */
export function makeKit(scenario: Scenario): Kit {
  return new SimulatedKit(scenario);
}

const MAX_OUTSTANDING = 4;
const AMBIENT_PERIOD_US = 1_000_000;
const ENVELOPE_BYTES = 3;
const CAPABILITIES = ["block_write", "lock", "barometer", ...Object.keys(CHANNEL_RULES)];

/** Why a message is not served, and the field of its payload that is to blame. */
class Refused {
  readonly code: Reason;
  readonly field: string | null;
  constructor(code: Reason, field: string | null = null) {
    this.code = code;
    this.field = field;
  }
}

class SimulatedKit implements Kit {
  readonly #scenario: Scenario;
  readonly #deframer = new Deframer();
  readonly #transmitter: Transmitter;
  readonly #barometer: Barometer;
  readonly #tags: readonly Tag[];
  readonly #interrogator: Interrogator;
  #nowUs = 0;
  #nextAmbientUs = Number.POSITIVE_INFINITY;
  /** Requests held at once, by the last hello; null before it. */
  #agreed: number | null = null;
  #said: Uint8Array[] = [];

  constructor(scenario: Scenario) {
    this.#scenario = scenario;
    this.#barometer = new Barometer(scenario);
    ({ tags: this.#tags, transmitter: this.#transmitter, interrogator: this.#interrogator } = airOf(scenario));
  }

  receive(bytes: Uint8Array): void {
    this.#deframer.push(
      bytes,
      (body) => this.#serve(body),
      // Nobody can say which request was damaged: the error is about none.
      (fault) => this.#frame(refuse(layout, new Uint8Array(0), { ...fault, byte: 0 })),
    );
  }

  advance(toUs: number): void {
    if (!(toUs >= this.#nowUs)) throw new RangeError(`kit time ${toUs} µs is before ${this.#nowUs} µs`);
    const endUs = Math.floor(toUs);
    for (;;) {
      const nextUs = Math.min(this.#nextAmbientUs, this.#interrogator.nextUs);
      this.#nowUs = Math.min(nextUs, endUs);
      for (const tag of this.#tags) tag.advance(this.#nowUs);
      if (nextUs > endUs) return;
      if (nextUs === this.#nextAmbientUs) this.#reportAmbient();
      else this.#interrogator.run();
    }
  }

  take(): Uint8Array {
    const bytes = new Uint8Array(this.#said.reduce((sum, { length }) => sum + length, 0));
    let at = 0;
    for (const frame of this.#said) {
      bytes.set(frame, at);
      at += frame.length;
    }
    this.#said = [];
    return bytes;
  }

  #serve(body: Uint8Array): void {
    const message = decodeMessage(layout, body, "to-kit");
    const fault = isFault(message) ? message : this.#answer(message);
    if (fault) this.#frame(refuse(layout, body, fault));
  }

  /** Serves a message, or says why not. */
  #answer(message: Message): Fault | null {
    const early = this.#agreed === null && message.message.id !== "hello";
    const refused = early ? new Refused("message-not-now") : this.#dispatch(message);
    return refused && faultOf(message, refused);
  }

  #dispatch({ message, request, content }: Message): Refused | null {
    switch (message.id) {
      case "hello":
        return this.#hello(request, content);
      case "set_power":
        return this.#setPower(request, content);
      case "set_channel_plan":
        return this.#setChannelPlan(request, content);
      case "start_inventory":
        return this.#startInventory(request, content);
      case "stop_inventory":
        this.#interrogator.stop();
        return this.#done(request);
      case "keep_alive":
        return this.#done(request);
      default:
        return this.#takeAccess(message.id, request, content);
    }
  }

  /** A new host: whatever an earlier one had under way ends. */
  #hello(request: number, content: DecodedRecord): null {
    this.#interrogator.clear();
    const outstanding = Math.min(rawOf(content, "max_outstanding"), MAX_OUTSTANDING);
    // The welcome names this kit's version, so a host of another one learns it and can ask for nothing else.
    this.#agreed = rawOf(content, "link_version") === LINK_VERSION ? outstanding : null;
    this.#say("welcome", request, {
      link_version: LINK_VERSION,
      max_outstanding: outstanding,
      capabilities: flagBits("welcome", "capabilities", CAPABILITIES),
      power_low: rawOfValue("welcome", "power_low", POWER_LOW_DBM),
      power_high: rawOfValue("welcome", "power_high", POWER_HIGH_DBM),
      barometer_uncertainty: this.#scenario.barometer.expandedUncertaintyPa,
      kit_time: this.#nowUs,
    });
    this.#nextAmbientUs = this.#agreed === null ? Number.POSITIVE_INFINITY : this.#nowUs;
    return null;
  }

  #setPower(request: number, content: DecodedRecord): Refused | null {
    const powerDbm = physicalOf(content, "power")!;
    if (powerDbm < POWER_LOW_DBM || powerDbm > POWER_HIGH_DBM) return new Refused("request-refused", "power");
    this.#transmitter.powerDbm = powerDbm;
    return this.#done(request);
  }

  #setChannelPlan(request: number, content: DecodedRecord): Refused | null {
    const plan = nameOf(content, "plan");
    if (!isChannelPlan(plan)) return new Refused("request-refused", "plan");
    this.#interrogator.follow(this.#nowUs, plan);
    return this.#done(request);
  }

  #startInventory(request: number, content: DecodedRecord): null {
    const read = {
      kind: "read",
      bank: rawOf(content, "bank"),
      word: rawOf(content, "pointer"),
      count: rawOf(content, "word_count"),
    } as const;
    const wanted: readonly PasswordedAccess[] = read.count === 0 ? [] : [{ password: 0, access: read }];
    this.#interrogator.start(this.#nowUs, {
      periodUs: rawOf(content, "period") * 1000,
      accesses: () => wanted,
      onSighting: (sighting) => this.#reportTag(sighting, read.bank, read.word),
    });
    return this.#done(request);
  }

  #takeAccess(id: string, request: number, content: DecodedRecord): Refused | null {
    if (this.#interrogator.orders >= this.#agreed!) return new Refused("too-many-outstanding");
    const access = accessOf(id, content);
    // Gen2 reads a count of 0 as "to the end of the bank", which no answer of this link could be checked against.
    if (!access) return new Refused("request-refused", "word_count");
    this.#interrogator.order(this.#nowUs, {
      epc: content.tails.epc!,
      // A kill carries its own password in the access.
      password: access.kind === "kill" ? 0 : rawOf(content, "password"),
      access,
      onDone: (result, timeUs) => this.#answerAccess(request, result, timeUs),
    });
    return null;
  }

  #answerAccess(request: number, { result, words }: AccessResult, timeUs: number): void {
    const values = {
      result: rawOfWord("access_answer", "result", result),
      word_count: words.length,
      kit_time: timeUs,
    };
    this.#say("access_answer", request, values, { words });
  }

  #reportTag({ timeUs, identity, rssiDbm, frequencyKhz, results }: Sighting, bank: number, pointer: number): void {
    const [read] = results;
    const words = read?.words ?? [];
    const values = {
      kit_time: timeUs,
      pc: identity.pc,
      xpc: identity.xpc,
      rssi: rawOfValue("tag_report", "rssi", rssiDbm),
      frequency: frequencyKhz,
      result: rawOfWord("tag_report", "result", read?.result ?? "not_asked"),
      bank,
      pointer,
      word_count: words.length,
      epc_words: identity.epc.length,
    };
    this.#say("tag_report", 0, values, { epc: identity.epc, words });
  }

  #reportAmbient(): void {
    const { pressurePa, temperatureC } = this.#barometer.measure(this.#nowUs);
    this.#say("ambient_report", 0, {
      kit_time: this.#nowUs,
      pressure: rawOfValue("ambient_report", "pressure", pressurePa),
      temperature: rawOfValue("ambient_report", "temperature", temperatureC),
    });
    this.#nextAmbientUs += AMBIENT_PERIOD_US;
  }

  #done(request: number): null {
    this.#say("done", request, {});
    return null;
  }

  /** Throws an Error for a value the specification does not allow, which only a scenario can bring about. */
  #say(id: string, request: number, values: RawValues, tails: { readonly [id: string]: ArrayLike<number> } = {}): void {
    const body = encodeMessage(layout, id, "to-host", request, values, tails);
    if (isFault(body)) throw new Error(sentence(body));
    this.#frame(body);
  }

  #frame(body: Uint8Array): void {
    this.#said.push(encodeFrame(body));
  }
}

function faultOf({ message, content }: Message, { code, field }: Refused): Fault {
  const byte = field === null ? 0 : ENVELOPE_BYTES + fieldOf(message.record, field).byte;
  const path = field === null ? message.id : `${message.record}.${field}`;
  const actual = field === null ? message.id : `${rawOf(content, field)}`;
  return { code, byte, bit: null, path, expected: "a request this kit can serve now", actual };
}
