/** The simulated LLRP reader: the kit's tags behind GS1's Low Level Reader Protocol. */
import { LlrpStream, type Origin } from "../../protocol/llrp/stream.ts";
import {
  type LlrpElement,
  type LlrpMessage,
  type LlrpValues,
  numberOf,
  parameterOf,
} from "../../protocol/llrp/vocabulary.ts";
import { type Fault, type Reason, sentence } from "../../protocol/model/reasons.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Tag } from "../tag/tag.ts";
import type { Interrogator } from "./interrogator.ts";
import type { Kit } from "./kit.ts";
import { airOf } from "./kit-air.ts";
import { capabilities } from "./llrp-capabilities.ts";
import { LlrpRounds } from "./llrp-rounds.ts";
import { EVENT_ROSPEC, LlrpSettings } from "./llrp-settings.ts";
import { cannotRun, Refused } from "./llrp-specs.ts";
import { LlrpVoice } from "./llrp-voice.ts";

export interface LlrpEndpointOptions {
  /** UTC at kit time 0, in microseconds since 1970. */
  readonly startUtcUs: bigint;
  /** Highest version spoken: 1 is LLRP 1.0.1, 2 is 1.1. */
  readonly supportedVersion: 1 | 2;
}

/** An LLRP reader at time 0 with the scenario's tags before it, greeting the client that has just connected. */
export function makeLlrpEndpoint(scenario: Scenario, options: LlrpEndpointOptions): Kit {
  return new LlrpEndpoint(scenario, options);
}

const STATUS_OF: { readonly [code in Reason]?: string } = {
  "llrp-version-unsupported": "M_UnsupportedVersion",
  "message-unknown": "M_UnsupportedMessage",
  "llrp-parameter-unknown": "M_UnknownParameter",
  "llrp-parameter-unexpected": "M_UnexpectedParameter",
  "field-missing": "M_MissingParameter",
};

const VERSION_MESSAGES = ["GET_SUPPORTED_VERSION", "SET_PROTOCOL_VERSION"];

class LlrpEndpoint implements Kit {
  readonly #supportedVersion: number;
  readonly #tags: readonly Tag[];
  readonly #interrogator: Interrogator;
  readonly #voice: LlrpVoice;
  readonly #rounds: LlrpRounds;
  readonly #settings: LlrpSettings;
  readonly #stream: LlrpStream;
  #nowUs = 0;

  constructor(scenario: Scenario, { startUtcUs, supportedVersion }: LlrpEndpointOptions) {
    this.#supportedVersion = supportedVersion;
    const { tags, transmitter, interrogator } = airOf(scenario);
    this.#tags = tags;
    this.#interrogator = interrogator;
    this.#voice = new LlrpVoice(startUtcUs);
    this.#settings = new LlrpSettings(transmitter);
    this.#rounds = new LlrpRounds(interrogator, {
      utcUs: (timeUs) => this.#voice.utcUs(timeUs),
      onReports: (reports) => this.#voice.say("RO_ACCESS_REPORT", {}, reports),
      onEvent: (nowUs, EventType, ROSpecID) => {
        if (!this.#settings.tells(EVENT_ROSPEC)) return;
        this.#voice.event(nowUs, "ROSpecEvent", { EventType, ROSpecID, PreemptingROSpecID: 0 });
      },
    });
    this.#stream = new LlrpStream({
      onMessage: (message) => this.#serve(message),
      onFault: (fault, origin) => this.#complain(fault, origin),
    });
    this.#voice.event(0, "ConnectionAttemptEvent", { Status: 0 });
  }

  receive(bytes: Uint8Array): void {
    this.#stream.push(bytes);
  }

  advance(toUs: number): void {
    if (!(toUs >= this.#nowUs)) throw new RangeError(`kit time ${toUs} µs is before ${this.#nowUs} µs`);
    const endUs = Math.floor(toUs);
    for (;;) {
      const stopUs = this.#rounds.endUs;
      const { nextKeepAliveUs } = this.#settings;
      const nextUs = Math.min(this.#interrogator.nextUs, nextKeepAliveUs, stopUs);
      this.#nowUs = Math.min(nextUs, endUs);
      for (const tag of this.#tags) tag.advance(this.#nowUs);
      if (nextUs > endUs) return;
      if (nextUs === stopUs) this.#rounds.stop(this.#nowUs);
      else if (nextUs === nextKeepAliveUs) {
        this.#voice.say("KEEPALIVE");
        this.#settings.keptAlive();
      } else this.#interrogator.run();
    }
  }

  take(): Uint8Array {
    return this.#voice.take();
  }

  #serve(message: LlrpMessage): void {
    const agreed = message.version === this.#voice.version || VERSION_MESSAGES.includes(message.name);
    if (!agreed || message.version > this.#supportedVersion) {
      const says = `this reader speaks version ${this.#voice.version} now`;
      this.#voice.error(message.id, "M_UnsupportedVersion", says);
      return;
    }
    const done = this.#dispatch(message);
    if (done instanceof Refused) this.#voice.answer(message, done.status, done.says);
    else if (done) this.#voice.answer(message, "M_Success", "", done.values, done.parameters);
  }

  /** What the answer holds beside its status, null for no answer. */
  #dispatch(message: LlrpMessage): Refused | null | Answer {
    const { roSpecs, accessSpecs } = this.#rounds;
    switch (message.name) {
      case "GET_READER_CAPABILITIES":
        return parts(capabilities(numberOf(message, "RequestedData")));
      case "GET_READER_CONFIG":
        return parts(this.#settings.parts(numberOf(message, "RequestedData")));
      case "SET_READER_CONFIG":
        return this.#configure(message) ?? parts([]);
      case "ADD_ROSPEC": {
        const spec = parameterOf(message, "ROSpec")!;
        return cannotRun(spec) ?? roSpecs.add(spec) ?? parts([]);
      }
      case "DELETE_ROSPEC":
      case "DISABLE_ROSPEC":
      case "ENABLE_ROSPEC":
      case "START_ROSPEC":
      case "STOP_ROSPEC":
        return this.#rounds.change(this.#nowUs, message.name, numberOf(message, "ROSpecID")) ?? parts([]);
      case "GET_ROSPECS":
        return parts(roSpecs.all(this.#rounds.activeId));
      case "ADD_ACCESSSPEC":
        return accessSpecs.add(parameterOf(message, "AccessSpec")!) ?? parts([]);
      case "DELETE_ACCESSSPEC":
        return accessSpecs.remove(numberOf(message, "AccessSpecID")) ?? parts([]);
      case "ENABLE_ACCESSSPEC":
      case "DISABLE_ACCESSSPEC": {
        const enabled = message.name === "ENABLE_ACCESSSPEC";
        return accessSpecs.enable(numberOf(message, "AccessSpecID"), enabled) ?? parts([]);
      }
      case "GET_ACCESSSPECS":
        return parts(accessSpecs.all(null));
      case "GET_REPORT":
        this.#rounds.flush();
        return null;
      case "GET_SUPPORTED_VERSION":
        return parts([], { CurrentVersion: this.#voice.version, SupportedVersion: this.#supportedVersion });
      case "SET_PROTOCOL_VERSION":
        return this.#changeVersion(numberOf(message, "ProtocolVersion")) ?? parts([]);
      case "CLOSE_CONNECTION":
        this.#reset();
        return parts([]);
      case "KEEPALIVE_ACK":
      case "ENABLE_EVENTS_AND_REPORTS":
        return null;
      default:
        this.#voice.error(
          message.id,
          "M_UnsupportedMessage",
          `${message.name} is nothing a client says to this reader`,
        );
        return null;
    }
  }

  #changeVersion(version: number): Refused | null {
    if (version < 1 || version > this.#supportedVersion) {
      return new Refused("M_UnsupportedVersion", `this reader speaks up to version ${this.#supportedVersion}`);
    }
    this.#voice.version = version;
    return null;
  }

  #configure(message: LlrpMessage): Refused | null {
    const refused = this.#settings.refusalOf(message);
    if (refused) return refused;
    if (numberOf(message, "ResetToFactoryDefault") === 1) this.#reset();
    this.#settings.configure(this.#nowUs, message);
    return null;
  }

  /** Factory settings, and nothing under way. */
  #reset(): void {
    this.#rounds.stop(this.#nowUs);
    this.#rounds.roSpecs.clear();
    this.#rounds.accessSpecs.clear();
    this.#settings.reset();
  }

  #complain(fault: Fault, origin: Origin | null): void {
    const raw = origin?.raw;
    const id = raw ? new DataView(raw.buffer, raw.byteOffset).getUint32(6) : 0;
    this.#voice.error(id, STATUS_OF[fault.code] ?? "M_ParameterError", sentence(fault));
  }
}

interface Answer {
  readonly values: LlrpValues;
  readonly parameters: readonly LlrpElement[];
}

function parts(parameters: readonly LlrpElement[] | null, values: LlrpValues = {}): Answer | Refused {
  return parameters ? { values, parameters } : new Refused("M_FieldError", "there is no such part");
}
