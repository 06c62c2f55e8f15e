/** What a report of LLRP says, with the standard's rule for what it leaves out. */
import { describe, expect, it } from "vitest";
import { LlrpReports } from "../../../host/reader/llrp-reports.ts";
import { element, type LlrpElement, type LlrpMessage } from "../../../protocol/llrp/vocabulary.ts";
import type { Fault } from "../../../protocol/model/reasons.ts";

const START = 1_772_614_800_000_000n;
const message = (content: LlrpElement): LlrpMessage => ({ ...content, version: 1, id: 1, skipped: [] });
const epc = (last: string) => element("EPC-96", { EPC: `3066c4409047e14000004b${last}` });
const seenAt = (us: number) => element("LastSeenTimestampUTC", { Microseconds: START + BigInt(us) });
const read = (OpSpecID: number, ...ReadData: number[]) =>
  element("C1G2ReadOpSpecResult", { Result: 0, OpSpecID, ReadData });

function greeted(stamp = element("UTCTimestamp", { Microseconds: START })) {
  const faults: Fault[] = [];
  const reports = new LlrpReports((fault) => faults.push(fault));
  const data = element("ReaderEventNotificationData", {}, [stamp, element("ConnectionAttemptEvent", { Status: 0 })]);
  reports.take(message(element("READER_EVENT_NOTIFICATION", {}, [data])));
  const report = (...parts: LlrpElement[]) => {
    const seen = reports.take(message(element("RO_ACCESS_REPORT", {}, [element("TagReportData", {}, parts)])));
    return seen.flatMap((tag) => tag.reports);
  };
  return { reports, report, faults };
}

describe("a report of LLRP", () => {
  it("repeats the last value of an enabled field that is absent", () => {
    const { reports, report } = greeted();
    const frequencies = element("FixedFrequencyTable", { Frequency: [865_700, 866_300] });
    const information = element("FrequencyInformation", { Hopping: 0 }, [frequencies]);
    const band = element("UHFBandCapabilities", {}, [information]);
    const regulatory = element("RegulatoryCapabilities", { CountryCode: 0, CommunicationsStandard: 2 }, [band]);
    reports.take(message(element("GET_READER_CAPABILITIES_RESPONSE", {}, [regulatory])));
    const rssi = element("PeakRSSI", { PeakRSSI: -58 });
    const [first] = report(epc("01"), rssi, element("ChannelIndex", { ChannelIndex: 2 }), seenAt(5), read(0xc000, 1));
    expect(first).toMatchObject({
      kitTimeUs: 5,
      rssiDbm: -58,
      frequencyKhz: 866_300,
      bank: "user",
      word: 0,
      words: [1],
    });
    const [second] = report(epc("02"), read(0xc028, 7));
    expect(second).toMatchObject({ kitTimeUs: 5, rssiDbm: -58, frequencyKhz: 866_300, word: 40, words: [7] });
    expect(second!.epc.endsWith("02")).toBe(true);
  });

  it("knows nothing that was never said, and forgets with a new connection", () => {
    const { report } = greeted();
    expect(report(epc("01"), seenAt(1))[0]).toMatchObject({
      rssiDbm: null,
      frequencyKhz: 0,
      pc: 0,
      result: "not_asked",
    });
  });

  it("does not give a tag the XPC word of another", () => {
    const { report } = greeted();
    const pc = (PC_Bits: number) => element("C1G2_PC", { PC_Bits });
    const [with1] = report(epc("01"), seenAt(1), pc(0x3600), element("C1G2_XPC_W1", { XPC_W1: 0x0280 }));
    const [without] = report(epc("02"), seenAt(2), pc(0x3000));
    expect([with1!.xpc, without!.xpc]).toEqual([0x0280, 0]);
  });

  it("takes the words of a read from the AccessSpec that asked, if that was heard", () => {
    const { reports, report, faults } = greeted();
    expect(report(epc("01"), seenAt(1), element("AccessSpecID", { AccessSpecID: 9 }), read(7, 1, 2))).toEqual([]);
    expect(faults.map(({ code }) => code)).toEqual(["field-missing"]);
    const operation = element("C1G2Read", { OpSpecID: 7, AccessPassword: 0, MB: 2, WordPointer: 3, WordCount: 2 });
    const command = element("AccessCommand", {}, [element("C1G2TagSpec"), operation]);
    const values = { AccessSpecID: 9, AntennaID: 0, ProtocolID: 1, CurrentState: 0, ROSpecID: 0 };
    reports.take(message(element("ADD_ACCESSSPEC", {}, [element("AccessSpec", values, [command])])));
    expect(report(epc("01"), seenAt(2), read(7, 1, 2))[0]).toMatchObject({ bank: "tid", word: 3, words: [1, 2] });
  });

  it.each([
    [0, "done"],
    [1, "tag_error"],
    [2, "tag_lost"],
    [3, "tag_error"],
    [77, "tag_error"],
  ])("with read result %i is %s", (Result, result) => {
    const { report } = greeted();
    const part = element("C1G2ReadOpSpecResult", { Result, OpSpecID: 0xc000, ReadData: [] });
    expect(report(epc("01"), seenAt(1), part)[0]).toMatchObject({ result });
  });

  it("of a reader without a UTC clock is timed by its uptime", () => {
    const { reports, report } = greeted(element("Uptime", { Microseconds: 1000n }));
    expect(report(epc("01"), element("LastSeenTimestampUptime", { Microseconds: 1250n }))[0]!.kitTimeUs).toBe(250);
    expect(reports.startUtcUs).toBe(null);
  });

  it("without a time, or from before the connection, is a fault and no report", () => {
    const { report, faults } = greeted();
    expect(report(epc("01"))).toEqual([]);
    expect(report(epc("01"), seenAt(-1))).toEqual([]);
    expect(faults.map(({ code }) => code)).toEqual(["field-missing", "value-out-of-range"]);
  });
});
