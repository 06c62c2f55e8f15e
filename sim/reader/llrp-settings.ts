/** Settings of a simulated LLRP reader: power, keep-alives, and which events it tells. */
import { element, type LlrpElement, type LlrpMessage, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import { HIGHEST_POWER_INDEX, powerOfIndex } from "./llrp-capabilities.ts";
import { Refused } from "./llrp-specs.ts";
import type { Transmitter } from "./transmitter.ts";

export const EVENT_ROSPEC = 2;

export class LlrpSettings {
  /** When the next KEEPALIVE is due. */
  nextKeepAliveUs = Number.POSITIVE_INFINITY;
  readonly #transmitter: Transmitter;
  #powerIndex = HIGHEST_POWER_INDEX;
  #keepAliveUs = 0;
  #events = new Set<number>();

  constructor(transmitter: Transmitter) {
    this.#transmitter = transmitter;
  }

  tells(eventType: number): boolean {
    return this.#events.has(eventType);
  }

  /** Why a SET_READER_CONFIG cannot be served, before anything of it is done. */
  refusalOf(message: LlrpMessage): Refused | null {
    const index = powerIndexOf(message);
    if (index === undefined || powerOfIndex(index) !== undefined) return null;
    return new Refused("P_FieldError", `there is no power of index ${index}`);
  }

  /** Takes over what a SET_READER_CONFIG holds. */
  configure(nowUs: number, message: LlrpMessage): void {
    const index = powerIndexOf(message);
    if (index !== undefined) this.#setPower(index);
    const keepAlive = parameterOf(message, "KeepaliveSpec");
    if (keepAlive) {
      const periodic = numberOf(keepAlive, "KeepaliveTriggerType") === 1;
      this.#keepAliveUs = periodic ? numberOf(keepAlive, "PeriodicTriggerValue") * 1000 : 0;
      this.nextKeepAliveUs = this.#keepAliveUs > 0 ? nowUs + this.#keepAliveUs : Number.POSITIVE_INFINITY;
    }
    for (const state of parameterOf(message, "ReaderEventNotificationSpec")?.parameters ?? []) {
      const type = numberOf(state, "EventType");
      if (numberOf(state, "NotificationState") === 1) this.#events.add(type);
      else this.#events.delete(type);
    }
  }

  /** Parts of the configuration by GET_READER_CONFIG's numbers (from memory); null for a number that has none. */
  parts(requested: number): LlrpElement[] | null {
    const transmitter = { HopTableID: 0, ChannelIndex: 1, TransmitPower: this.#powerIndex };
    const events = [EVENT_ROSPEC].map((EventType) =>
      element("EventNotificationState", { EventType, NotificationState: this.tells(EventType) ? 1 : 0 }),
    );
    const periodMs = this.#keepAliveUs / 1000;
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

  keptAlive(): void {
    this.nextKeepAliveUs += this.#keepAliveUs;
  }

  /** Factory settings. */
  reset(): void {
    this.#events.clear();
    this.nextKeepAliveUs = Number.POSITIVE_INFINITY;
    this.#setPower(HIGHEST_POWER_INDEX);
  }

  #setPower(index: number): void {
    this.#powerIndex = index;
    this.#transmitter.powerDbm = powerOfIndex(index)!;
  }
}

function powerIndexOf(message: LlrpMessage): number | undefined {
  const antenna = parameterOf(message, "AntennaConfiguration");
  const transmitter = antenna && parameterOf(antenna, "RFTransmitter");
  return transmitter && numberOf(transmitter, "TransmitPower");
}
