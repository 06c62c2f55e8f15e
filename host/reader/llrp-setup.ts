/** From the greeting of an LLRP reader to a known state of it. */
import { element, numberOf, parameterOf } from "../../protocol/llrp/vocabulary.ts";
import { abilitiesOf, type LlrpAbilities } from "./llrp-info.ts";
import type { LlrpRequests } from "./llrp-requests.ts";
import { inventorySpec, ROSPEC_ID } from "./llrp-specs.ts";
import { ReaderError } from "./reader-error.ts";

/** ROSpecs, exceptions, antennas: by the standard's numbers. */
const EVENTS = [2, 4, 8];

/** GET_READER_CONFIG's number of the antennas' configuration (from memory). */
const ANTENNA_CONFIGURATION = 3;

/**
 * Agrees on a version, asks what the reader can do, sets it back to its factory settings, drops all specs of others and
 * leaves one ROSpec enabled. Rejects with a ReaderError.
 */
export async function setUp(requests: LlrpRequests, source: string, keepAliveMs: number): Promise<LlrpAbilities> {
  await agreeOnVersion(requests);
  const abilities = abilitiesOf(source, await requests.ask(element("GET_READER_CAPABILITIES", { RequestedData: 0 })));
  const states = EVENTS.map((EventType) => element("EventNotificationState", { EventType, NotificationState: 1 }));
  await requests.ask(
    element("SET_READER_CONFIG", { ResetToFactoryDefault: 1 }, [
      element("ReaderEventNotificationSpec", {}, states),
      element("KeepaliveSpec", { KeepaliveTriggerType: 1, PeriodicTriggerValue: keepAliveMs }),
    ]),
  );
  await requests.ask(element("DELETE_ROSPEC", { ROSpecID: 0 }));
  await requests.ask(element("DELETE_ACCESSSPEC", { AccessSpecID: 0 }));
  await requests.ask(element("ADD_ROSPEC", {}, [inventorySpec(requests.version)]));
  await requests.ask(element("ENABLE_ROSPEC", { ROSpecID: ROSPEC_ID }));
  return abilities;
}

/** 1.1 when the reader speaks it. A reader of 1.0.1 does not know the question and says so. */
async function agreeOnVersion(requests: LlrpRequests): Promise<void> {
  try {
    const answer = await requests.ask(element("GET_SUPPORTED_VERSION"), 2);
    if (numberOf(answer, "SupportedVersion") < 2) return;
    await requests.ask(element("SET_PROTOCOL_VERSION", { ProtocolVersion: 2 }), 2);
    requests.version = 2;
  } catch (error) {
    if (!(error instanceof ReaderError) || error.fault.code !== "llrp-status") throw error;
  }
}

/** Sets every antenna to an entry of the table of powers, all else as it is; false when no antenna says how it transmits. */
export async function setPowerIndex(requests: LlrpRequests, TransmitPower: number): Promise<boolean> {
  const which = { AntennaID: 0, RequestedData: ANTENNA_CONFIGURATION, GPIPortNum: 0, GPOPortNum: 0 };
  const config = await requests.ask(element("GET_READER_CONFIG", which));
  const antennas = config.parameters.flatMap((antenna) => {
    const transmitter = antenna.name === "AntennaConfiguration" && parameterOf(antenna, "RFTransmitter");
    if (!transmitter) return [];
    const changed = element("RFTransmitter", { ...transmitter.values, TransmitPower });
    return [element("AntennaConfiguration", antenna.values, [changed])];
  });
  if (antennas.length === 0) return false;
  await requests.ask(element("SET_READER_CONFIG", { ResetToFactoryDefault: 0 }, antennas));
  return true;
}

/** Drops all specs and says goodbye, whatever the reader answers; a reader that does not answer is not asked further. */
export async function takeDown(requests: LlrpRequests): Promise<void> {
  const goodbye = [
    element("DELETE_ROSPEC", { ROSpecID: 0 }),
    element("DELETE_ACCESSSPEC", { AccessSpecID: 0 }),
    element("CLOSE_CONNECTION"),
  ];
  for (const request of goodbye) {
    const code = await requests.ask(request).then(
      () => null,
      (error: ReaderError) => error.fault.code,
    );
    if (code === "request-timed-out" || code === "link-closed") return;
  }
}
