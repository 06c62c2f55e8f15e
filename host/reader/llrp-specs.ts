/** ROSpec and AccessSpecs as this program asks for them. */

import { parseHex } from "../../protocol/bytes/hex.ts";
import { element, type LlrpElement } from "../../protocol/llrp/vocabulary.ts";

export const ROSPEC_ID = 1;

/** All antennas, any ROSpec. */
const ALL = 0;
const C1G2 = 1;
const EPC_BANK = 1;
/** The EPC begins behind StoredCRC and PC. */
const EPC_BIT = 32;
const NULL_TRIGGER = 0;

/**
 * Inventory without an end: battery-less tags need the carrier, so nothing in it pauses. Session S0, in which a tag answers
 * in every round. Every sighting is reported at once. XPC_W1 is asked for from version 2 (LLRP 1.1) on: 1.0.1 has no word for it.
 */
export function inventorySpec(version: number): LlrpElement {
  const selected = {
    EnableROSpecID: 1,
    EnableSpecIndex: 0,
    EnableInventoryParameterSpecID: 0,
    EnableAntennaID: 1,
    EnableChannelIndex: 1,
    EnablePeakRSSI: 1,
    EnableFirstSeenTimestamp: 1,
    EnableLastSeenTimestamp: 1,
    EnableTagSeenCount: 1,
    EnableAccessSpecID: 1,
  };
  const memory = element("C1G2EPCMemorySelector", {
    EnableCRC: 0,
    EnablePCBits: 1,
    EnableXPCBits: version >= 2 ? 1 : 0,
  });
  const singulation = element("C1G2SingulationControl", { Session: 0, TagPopulation: 16, TagTransitTime: 0 });
  return element("ROSpec", { ROSpecID: ROSPEC_ID, Priority: 0, CurrentState: 0 }, [
    element("ROBoundarySpec", {}, [
      element("ROSpecStartTrigger", { ROSpecStartTriggerType: NULL_TRIGGER }),
      element("ROSpecStopTrigger", { ROSpecStopTriggerType: NULL_TRIGGER, DurationTriggerValue: 0 }),
    ]),
    element("AISpec", { AntennaIDs: [ALL] }, [
      element("AISpecStopTrigger", { AISpecStopTriggerType: NULL_TRIGGER, DurationTrigger: 0 }),
      element("InventoryParameterSpec", { InventoryParameterSpecID: 1, ProtocolID: C1G2 }, [
        element("AntennaConfiguration", { AntennaID: ALL }, [
          element("C1G2InventoryCommand", { TagInventoryStateAware: 0 }, [singulation]),
        ]),
      ]),
    ]),
    element("ROReportSpec", { ROReportTrigger: 2, N: 1 }, [element("TagReportContentSelector", selected, [memory])]),
  ]);
}

/** An AccessSpec, disabled: for one tag and one execution, or (`epc` null) for every tag as long as it stands. */
export function accessSpec(id: number, epc: string | null, operation: LlrpElement): LlrpElement {
  const bits = epc === null ? 0 : (parseHex(epc) as Uint8Array).length * 8;
  const target = element("C1G2TargetTag", {
    MB: EPC_BANK,
    Match: 1,
    Pointer: EPC_BIT,
    TagMask: { bits, hex: "f".repeat(bits / 4) },
    TagData: { bits, hex: epc ?? "" },
  });
  const stop =
    epc === null
      ? { AccessSpecStopTrigger: 0, OperationCountValue: 0 }
      : { AccessSpecStopTrigger: 1, OperationCountValue: 1 };
  const values = { AccessSpecID: id, AntennaID: ALL, ProtocolID: C1G2, CurrentState: 0, ROSpecID: ALL };
  return element("AccessSpec", values, [
    element("AccessSpecStopTrigger", stop),
    element("AccessCommand", {}, [element("C1G2TagSpec", {}, [target]), operation]),
    element("AccessReportSpec", { AccessReportTrigger: 0 }),
  ]);
}
