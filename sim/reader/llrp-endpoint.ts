/** The simulated LLRP reader: the kit's tags behind GS1's Low Level Reader Protocol. */
import { encodeLlrp } from "../../protocol/llrp/encode.ts";
import { statusCode } from "../../protocol/llrp/status.ts";
import { LlrpStream, type Origin } from "../../protocol/llrp/stream.ts";
import {
  element,
  type LlrpElement,
  type LlrpMessage,
  type LlrpValues,
  numberOf,
  parameterOf,
} from "../../protocol/llrp/vocabulary.ts";
import { type Fault, type Reason, sentence } from "../../protocol/model/reasons.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Identity } from "../tag/memory.ts";
import type { Tag } from "../tag/tag.ts";
import type { Interrogator, Sighting } from "./interrogator.ts";
import type { Kit } from "./kit.ts";
import { airOf } from "./kit-air.ts";
import { accessesOf, isMeantFor, resultsOf } from "./llrp-access.ts";
import { capabilities, HIGHEST_POWER_INDEX, powerOfIndex } from "./llrp-capabilities.ts";
import { cannotRun, LlrpSpecs, Refused } from "./llrp-specs.ts";
import { NOTHING_SELECTED, TagReports } from "./llrp-tag-report.ts";
import type { Transmitter } from "./transmitter.ts";

export interface LlrpEndpointOptions {
  /** UTC at kit time 0, in microseconds since 1970. */
  readonly startUtcUs: bigint;
  /** Highest version spoken: 1 is LLRP 1.0.1, 2 is 1.1. */
  readonly supportedVersion: 1 | 2;
}

/** A LLRP reader at time 0 with the scenario's tags before it, greeting the client that has just connected. */
export function makeLlrpEndpoint(scenario: Scenario, options: LlrpEndpointOptions): Kit {
  return new LlrpEndpoint(scenario, options);
}

/** Rounds follow each other in this time: the reader's own pace, for LLRP has no word for it. */
const ROUND_US = 100_000;

const STATUS_OF: { readonly [code in Reason]?: string } = {
  "llrp-version-unsupported": "M_UnsupportedVersion",
  "message-unknown": "M_UnsupportedMessage",
  "llrp-parameter-unknown": "M_UnknownParameter",
  "llrp-parameter-unexpected": "M_UnexpectedParameter",
  "field-missing": "M_MissingParameter",
};

const EVENT_ROSPEC = 2;
const VERSION_MESSAGES = ["GET_SUPPORTED_VERSION", "SET_PROTOCOL_VERSION"];

class LlrpEndpoint implements Kit {
  readonly #options: LlrpEndpointOptions;
  readonly #transmitter: Transmitter;
  readonly #tags: readonly Tag[];
  readonly #interrogator: Interrogator;
  readonly #roSpecs = new LlrpSpecs("ROSpec");
  readonly #accessSpecs = new LlrpSpecs("AccessSpec");
  readonly #tagReports = new TagReports();
  readonly #stream: LlrpStream;
  #nowUs = 0;
  #version = 1;
  #active: { readonly id: number; readonly spec: LlrpElement; readonly endUs: number } | null = null;
  #powerIndex = HIGHEST_POWER_INDEX;
  #keepaliveUs = 0;
  #nextKeepaliveUs = Number.POSITIVE_INFINITY;
  #events = new Set<number>();
  #ownId = 0;
  #waiting: LlrpElement[] = [];
  #said: Uint8Array[] = [];

  constructor(scenario: Scenario, options: LlrpEndpointOptions) {
    this.#options = options;
    ({ tags: this.#tags, transmitter: this.#transmitter, interrogator: this.#interrogator } = airOf(scenario));
    this.#stream = new LlrpStream({
      onMessage: (message) => this.#serve(message),
      onFault: (fault, origin) => this.#complain(fault, origin),
    });
    this.#event("ConnectionAttemptEvent", { Status: 0 });
  }

  receive(bytes: Uint8Array): void {
    this.#stream.push(bytes);
  }

  advance(toUs: number): void {
    if (!(toUs >= this.#nowUs)) throw new RangeError(`kit time ${toUs} µs is before ${this.#nowUs} µs`);
    const endUs = Math.floor(toUs);
    for (;;) {
      const stopUs = this.#active?.endUs ?? Number.POSITIVE_INFINITY;
      const nextUs = Math.min(this.#interrogator.nextUs, this.#nextKeepaliveUs, stopUs);
      this.#nowUs = Math.min(nextUs, endUs);
      for (const tag of this.#tags) tag.advance(this.#nowUs);
      if (nextUs > endUs) return;
      if (nextUs === stopUs) this.#stop();
      else if (nextUs === this.#nextKeepaliveUs) this.#keepAlive();
      else this.#interrogator.run();
    }
  }

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

  #serve(message: LlrpMessage): void {
    const { supportedVersion } = this.#options;
    const agreed = message.version === this.#version || VERSION_MESSAGES.includes(message.name);
    if (!agreed || message.version > supportedVersion) {
      this.#error(message.id, "M_UnsupportedVersion", `this reader speaks version ${this.#version} now`);
      return;
    }
    const done = this.#dispatch(message);
    if (done instanceof Refused) this.#answer(message, done.status, done.says);
    else if (done) this.#answer(message, "M_Success", "", done.values, done.parameters);
  }

  /** What the answer holds beside its status, null for no answer. */
  #dispatch(message: LlrpMessage): Refused | null | Answer {
    switch (message.name) {
      case "GET_READER_CAPABILITIES":
        return parts(capabilities(numberOf(message, "RequestedData")));
      case "GET_READER_CONFIG":
        return parts(this.#configuration(numberOf(message, "RequestedData")));
      case "SET_READER_CONFIG":
        return this.#configure(message) ?? parts([]);
      case "ADD_ROSPEC": {
        const spec = parameterOf(message, "ROSpec")!;
        return cannotRun(spec) ?? this.#roSpecs.add(spec) ?? parts([]);
      }
      case "DELETE_ROSPEC":
      case "DISABLE_ROSPEC":
      case "ENABLE_ROSPEC":
      case "START_ROSPEC":
      case "STOP_ROSPEC":
        return this.#changeRoSpec(message.name, numberOf(message, "ROSpecID")) ?? parts([]);
      case "GET_ROSPECS":
        return parts(this.#roSpecs.all(this.#active?.id ?? null));
      case "ADD_ACCESSSPEC":
        return this.#accessSpecs.add(parameterOf(message, "AccessSpec")!) ?? parts([]);
      case "DELETE_ACCESSSPEC":
        return this.#accessSpecs.remove(numberOf(message, "AccessSpecID")) ?? parts([]);
      case "ENABLE_ACCESSSPEC":
      case "DISABLE_ACCESSSPEC": {
        const enabled = message.name === "ENABLE_ACCESSSPEC";
        return this.#accessSpecs.enable(numberOf(message, "AccessSpecID"), enabled) ?? parts([]);
      }
      case "GET_ACCESSSPECS":
        return parts(this.#accessSpecs.all(null));
      case "GET_REPORT":
        this.#flush();
        return null;
      case "GET_SUPPORTED_VERSION":
        return parts([], { CurrentVersion: this.#version, SupportedVersion: this.#options.supportedVersion });
      case "SET_PROTOCOL_VERSION":
        return this.#changeVersion(numberOf(message, "ProtocolVersion")) ?? parts([]);
      case "CLOSE_CONNECTION":
        this.#reset();
        return parts([]);
      case "KEEPALIVE_ACK":
      case "ENABLE_EVENTS_AND_REPORTS":
        return null;
      default:
        this.#error(message.id, "M_UnsupportedMessage", `${message.name} is nothing a client says to this reader`);
        return null;
    }
  }

  #changeVersion(version: number): Refused | null {
    if (version < 1 || version > this.#options.supportedVersion) {
      return new Refused("M_UnsupportedVersion", `this reader speaks up to version ${this.#options.supportedVersion}`);
    }
    this.#version = version;
    return null;
  }

  #changeRoSpec(name: string, id: number): Refused | null {
    const active = this.#active !== null && (id === 0 || id === this.#active.id);
    switch (name) {
      case "START_ROSPEC":
        return this.#start(id);
      case "STOP_ROSPEC":
        if (!active || id === 0) return new Refused("M_FieldError", `ROSpecID ${id} is not active`);
        this.#stop();
        return null;
      case "ENABLE_ROSPEC": {
        const refused = this.#roSpecs.enable(id, true);
        const immediate = this.#roSpecs.enabled().find((spec) => startType(spec) === 1);
        return refused ?? (immediate && !this.#active ? this.#start(numberOf(immediate, "ROSpecID")) : null);
      }
      default:
        if (active) this.#stop();
        return name === "DELETE_ROSPEC" ? this.#roSpecs.remove(id) : this.#roSpecs.enable(id, false);
    }
  }

  #start(id: number): Refused | null {
    const held = this.#roSpecs.get(id);
    if (!held?.enabled) return new Refused("M_FieldError", `ROSpecID ${id} is not enabled`);
    if (this.#active) return new Refused("M_FieldError", `ROSpecID ${this.#active.id} is active`);
    const stop = parameterOf(parameterOf(held.spec, "ROBoundarySpec")!, "ROSpecStopTrigger")!;
    const timed = numberOf(stop, "ROSpecStopTriggerType") === 1;
    const endUs = timed ? this.#nowUs + numberOf(stop, "DurationTriggerValue") * 1000 : Number.POSITIVE_INFINITY;
    this.#active = { id, spec: held.spec, endUs };
    // What was carried out is the AccessSpec of then, whatever came or went while the tag was being read.
    let meant: LlrpElement | undefined;
    this.#interrogator.start(this.#nowUs, {
      periodUs: ROUND_US,
      accesses: (identity) => {
        meant = this.#meantFor(id, identity);
        return meant ? accessesOf(meant) : { password: 0, list: [] };
      },
      onSighting: (sighting) => this.#report(sighting, meant),
    });
    this.#roSpecEvent(0, id);
    return null;
  }

  #stop(): void {
    const { id } = this.#active!;
    this.#active = null;
    this.#interrogator.clear();
    this.#flush();
    this.#roSpecEvent(1, id);
  }

  #report(sighting: Sighting, meant: LlrpElement | undefined): void {
    const { id, spec } = this.#active!;
    const access = meant ? this.#executed(meant, sighting) : null;
    const reportSpec = parameterOf(spec, "ROReportSpec");
    const selector = reportSpec ? parameterOf(reportSpec, "TagReportContentSelector")! : NOTHING_SELECTED;
    const utcUs = this.#options.startUtcUs + BigInt(sighting.timeUs);
    this.#waiting.push(this.#tagReports.report({ sighting, utcUs, roSpecId: id, access }, selector));
    const most = reportSpec ? numberOf(reportSpec, "N") : 0;
    // A report without a limit of its own is sent before the memory for it grows without end.
    if (this.#waiting.length >= (most || 1000)) this.#flush();
  }

  /** The first AccessSpec meant for the tag, and no other. */
  #meantFor(roSpecId: number, identity: Identity): LlrpElement | undefined {
    return this.#accessSpecs.enabled().find((spec) => {
      const bound = numberOf(spec, "ROSpecID");
      return (bound === 0 || bound === roSpecId) && isMeantFor(spec, identity);
    });
  }

  #executed(meant: LlrpElement, { results }: Sighting) {
    const id = numberOf(meant, "AccessSpecID");
    this.#accessSpecs.executed(id);
    return { id, results: resultsOf(meant, results) };
  }

  #flush(): void {
    if (this.#waiting.length > 0) this.#say("RO_ACCESS_REPORT", {}, this.#waiting);
    this.#waiting = [];
  }

  #configure(message: LlrpMessage): Refused | null {
    const antenna = parameterOf(message, "AntennaConfiguration");
    const transmitter = antenna && parameterOf(antenna, "RFTransmitter");
    const powerIndex = transmitter && numberOf(transmitter, "TransmitPower");
    if (powerIndex !== undefined && powerOfIndex(powerIndex) === undefined) {
      return new Refused("P_FieldError", `there is no power of index ${powerIndex}`);
    }
    if (numberOf(message, "ResetToFactoryDefault") === 1) this.#reset();
    if (powerIndex !== undefined) {
      this.#powerIndex = powerIndex;
      this.#transmitter.powerDbm = powerOfIndex(powerIndex)!;
    }
    const keepalive = parameterOf(message, "KeepaliveSpec");
    if (keepalive) {
      const periodic = numberOf(keepalive, "KeepaliveTriggerType") === 1;
      this.#keepaliveUs = periodic ? numberOf(keepalive, "PeriodicTriggerValue") * 1000 : 0;
      this.#nextKeepaliveUs = this.#keepaliveUs > 0 ? this.#nowUs + this.#keepaliveUs : Number.POSITIVE_INFINITY;
    }
    for (const state of parameterOf(message, "ReaderEventNotificationSpec")?.parameters ?? []) {
      const type = numberOf(state, "EventType");
      if (numberOf(state, "NotificationState") === 1) this.#events.add(type);
      else this.#events.delete(type);
    }
    return null;
  }

  /** Parts of the configuration by GET_READER_CONFIG's numbers (from memory); null for a number that has none. */
  #configuration(requested: number): LlrpElement[] | null {
    const transmitter = { HopTableID: 0, ChannelIndex: 1, TransmitPower: this.#powerIndex };
    const events = [EVENT_ROSPEC].map((EventType) =>
      element("EventNotificationState", { EventType, NotificationState: this.#events.has(EventType) ? 1 : 0 }),
    );
    const periodMs = this.#keepaliveUs / 1000;
    const all: { readonly [number: number]: LlrpElement } = {
      2: element("AntennaProperties", { AntennaConnected: 1, AntennaID: 1, AntennaGain: 0 }),
      3: element("AntennaConfiguration", { AntennaID: 1 }, [element("RFTransmitter", transmitter)]),
      5: element("ReaderEventNotificationSpec", {}, events),
      8: element("KeepaliveSpec", { KeepaliveTriggerType: periodMs > 0 ? 1 : 0, PeriodicTriggerValue: periodMs }),
      11: element("EventsAndReports", { HoldEventsAndReportsUponReconnect: 0 }),
    };
    if (requested === 0) return Object.values(all);
    const one = all[requested];
    return one ? [one] : null;
  }

  /** Factory settings, and nothing under way. */
  #reset(): void {
    if (this.#active) this.#stop();
    this.#roSpecs.clear();
    this.#accessSpecs.clear();
    this.#events.clear();
    this.#nextKeepaliveUs = Number.POSITIVE_INFINITY;
    this.#powerIndex = HIGHEST_POWER_INDEX;
    this.#transmitter.powerDbm = powerOfIndex(HIGHEST_POWER_INDEX)!;
  }

  #keepAlive(): void {
    this.#say("KEEPALIVE");
    this.#nextKeepaliveUs += this.#keepaliveUs;
  }

  #roSpecEvent(EventType: number, ROSpecID: number): void {
    if (this.#events.has(EVENT_ROSPEC)) this.#event("ROSpecEvent", { EventType, ROSpecID, PreemptingROSpecID: 0 });
  }

  #event(name: string, values: LlrpValues): void {
    const Microseconds = this.#options.startUtcUs + BigInt(this.#nowUs);
    const data = [element("UTCTimestamp", { Microseconds }), element(name, values)];
    this.#say("READER_EVENT_NOTIFICATION", {}, [element("ReaderEventNotificationData", {}, data)]);
  }

  #answer(
    { name, id }: LlrpMessage,
    status: string,
    says: string,
    values: LlrpValues = {},
    parameters: readonly LlrpElement[] = [],
  ): void {
    const full = name === "GET_SUPPORTED_VERSION" ? { CurrentVersion: 0, SupportedVersion: 0, ...values } : values;
    this.#send(element(`${name}_RESPONSE`, full, [statusOf(status, says), ...parameters]), id);
  }

  #complain(fault: Fault, origin: Origin | null): void {
    const raw = origin?.raw;
    const id = raw ? new DataView(raw.buffer, raw.byteOffset).getUint32(6) : 0;
    this.#error(id, STATUS_OF[fault.code] ?? "M_ParameterError", sentence(fault));
  }

  #error(id: number, status: string, says: string): void {
    this.#send(element("ERROR_MESSAGE", {}, [statusOf(status, says)]), id);
  }

  #say(name: string, values: LlrpValues = {}, parameters: readonly LlrpElement[] = []): void {
    this.#send(element(name, values, parameters), ++this.#ownId);
  }

  /** Throws an Error for a value LLRP cannot carry, which only a scenario can bring about. */
  #send(message: LlrpElement, id: number): void {
    const bytes = encodeLlrp(message, this.#version, id);
    if ("code" in bytes) throw new Error(sentence(bytes));
    this.#said.push(bytes);
  }
}

interface Answer {
  readonly values: LlrpValues;
  readonly parameters: readonly LlrpElement[];
}

function parts(parameters: readonly LlrpElement[] | null, values: LlrpValues = {}): Answer | Refused {
  return parameters ? { values, parameters } : new Refused("M_FieldError", "there is no such part");
}

function statusOf(name: string, says: string): LlrpElement {
  return element("LLRPStatus", { StatusCode: statusCode(name), ErrorDescription: says });
}

function startType(rospec: LlrpElement): number {
  const boundary = parameterOf(rospec, "ROBoundarySpec")!;
  return numberOf(parameterOf(boundary, "ROSpecStartTrigger")!, "ROSpecStartTriggerType");
}
