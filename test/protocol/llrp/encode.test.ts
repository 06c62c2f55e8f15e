/** What the encoder refuses and what it says, with places counted by hand; what it takes is held by vectors/llrp.json. */
import { describe, expect, it } from "vitest";
import { formatHex } from "../../../protocol/bytes/hex.ts";
import { encodeLlrp } from "../../../protocol/llrp/encode.ts";
import { element, type LlrpElement, type LlrpValue } from "../../../protocol/llrp/vocabulary.ts";
import type { Reason } from "../../../protocol/model/reasons.ts";

type Row = readonly [
  what: string,
  content: LlrpElement,
  code: Reason,
  byte: number,
  path: string,
  expected: string,
  actual: string,
];

const ANSWER = "SET_READER_CONFIG_RESPONSE";
const status = (ErrorDescription: LlrpValue = "") => element("LLRPStatus", { StatusCode: 0, ErrorDescription });
const uptime = element("Uptime", { Microseconds: 0n });

/** RO_ACCESS_REPORT of one tag: header of 10 bytes, TagReportData of 4, then these. */
const report = (...parameters: LlrpElement[]) =>
  element("RO_ACCESS_REPORT", {}, [element("TagReportData", {}, parameters)]);
const TAG = "RO_ACCESS_REPORT.TagReportData";
const epc96 = (EPC: LlrpValue) => element("EPC-96", { EPC });
const EPC = epc96("3066c4409047e14000001a85");
/** 13 bytes of EPC-96, then the value behind 1 byte of type. */
const rssi = (PeakRSSI: LlrpValue) => report(EPC, element("PeakRSSI", { PeakRSSI }));
const epcBits = (bits: LlrpValue) => report(element("EPCData", { EPC: bits }));
const custom = (Data: LlrpValue) => element("CUSTOM_MESSAGE", { VendorIdentifier: 1, MessageSubtype: 2, Data });
const rospec = (ROSpecID: LlrpValue) => element("DELETE_ROSPEC", { ROSpecID });
const ROSPEC_ID = "DELETE_ROSPEC.ROSpecID";
const U32 = "0 to 4294967295";

const rows: readonly Row[] = [
  ["a message it does not know", element("HELLO"), "message-unknown", 0, "HELLO", "a message of LLRP", "HELLO"],
  ["an answer without a status", element(ANSWER), "field-missing", 10, ANSWER, "LLRPStatus", "none"],
  [
    "an event without a clock",
    element("READER_EVENT_NOTIFICATION", {}, [element("ReaderEventNotificationData")]),
    "field-missing",
    14,
    "READER_EVENT_NOTIFICATION.ReaderEventNotificationData",
    "UTCTimestamp or Uptime",
    "none",
  ],
  [
    "two statuses",
    element(ANSWER, {}, [status(), status()]),
    "llrp-parameter-unexpected",
    10,
    ANSWER,
    "one LLRPStatus",
    "2",
  ],
  [
    "a parameter where none may be",
    element("KEEPALIVE", {}, [status()]),
    "llrp-parameter-unexpected",
    10,
    "KEEPALIVE",
    "none",
    "LLRPStatus",
  ],
  [
    "a parameter where two others may be",
    element("GET_ROSPECS_RESPONSE", {}, [status(), uptime]),
    "llrp-parameter-unexpected",
    18,
    "GET_ROSPECS_RESPONSE",
    "LLRPStatus, ROSpec",
    "Uptime",
  ],
  [
    "a parameter it does not know",
    element("KEEPALIVE", {}, [element("Hello")]),
    "llrp-parameter-unexpected",
    10,
    "KEEPALIVE",
    "none",
    "Hello",
  ],
  [
    "a parameter without one of its fields",
    element(ANSWER, {}, [element("LLRPStatus", { StatusCode: 0 })]),
    "field-missing",
    16,
    `${ANSWER}.LLRPStatus.ErrorDescription`,
    "a value",
    "none",
  ],
  [
    "a number for a text",
    element(ANSWER, {}, [status(5)]),
    "value-out-of-range",
    16,
    `${ANSWER}.LLRPStatus.ErrorDescription`,
    "a text",
    "5",
  ],
  [
    "a text for a list",
    report(EPC, element("C1G2ReadOpSpecResult", { Result: 0, OpSpecID: 1, ReadData: "1234" })),
    "value-out-of-range",
    34,
    `${TAG}.C1G2ReadOpSpecResult.ReadData`,
    "a list of integers",
    "1234",
  ],
  [
    "a word of 17 bits in a list",
    report(EPC, element("C1G2ReadOpSpecResult", { Result: 0, OpSpecID: 1, ReadData: [0xffff, 0x10000] })),
    "value-out-of-range",
    38,
    `${TAG}.C1G2ReadOpSpecResult.ReadData`,
    "0 to 65535",
    "65536",
  ],
  ["digits that are none", report(epc96("zz")), "value-out-of-range", 15, `${TAG}.EPC-96.EPC`, "hex", "zz"],
  ["a number for hex", report(epc96(5)), "value-out-of-range", 15, `${TAG}.EPC-96.EPC`, "hex", "5"],
  ["too few digits", report(epc96("3066")), "value-out-of-range", 15, `${TAG}.EPC-96.EPC`, "96 bits", "2 bytes"],
  [
    "bits without their digits",
    epcBits({ bits: 0 } as LlrpValue),
    "value-out-of-range",
    18,
    `${TAG}.EPCData.EPC`,
    "hex",
    '{"bits":0}',
  ],
  [
    "more bits than digits",
    epcBits({ bits: 12, hex: "ab" }),
    "value-out-of-range",
    18,
    `${TAG}.EPCData.EPC`,
    "12 bits",
    "1 bytes",
  ],
  ["a number for what is left", custom(5), "value-out-of-range", 15, "CUSTOM_MESSAGE.Data", "hex", "5"],
  ["a list for an integer", rospec([1, 2]), "value-out-of-range", 10, ROSPEC_ID, U32, "[1,2]"],
  ["text for an integer", rospec("7"), "value-out-of-range", 10, ROSPEC_ID, U32, "7"],
  ["an integer and a half", rospec(1.5), "value-out-of-range", 10, ROSPEC_ID, U32, "1.5"],
  ["an integer below 0", rospec(-1), "value-out-of-range", 10, ROSPEC_ID, U32, "-1"],
  ["a bigint of 33 bits", rospec(2n ** 32n), "value-out-of-range", 10, ROSPEC_ID, U32, "4294967296"],
  ["a value of 70 characters", rospec("7".repeat(70)), "value-out-of-range", 10, ROSPEC_ID, U32, "7".repeat(60)],
  [
    "2 in the second bit of a byte",
    element("GET_READER_CAPABILITIES_RESPONSE", {}, [
      status(),
      element("GeneralDeviceCapabilities", {
        MaxNumberOfAntennaSupported: 1,
        CanSetAntennaProperties: 0,
        HasUTCClockCapability: 2,
      }),
    ]),
    "value-out-of-range",
    24,
    "GET_READER_CAPABILITIES_RESPONSE.GeneralDeviceCapabilities.HasUTCClockCapability",
    "0 to 1",
    "2",
  ],
  ["-129 in 8 bits", rssi(-129), "value-out-of-range", 28, `${TAG}.PeakRSSI.PeakRSSI`, "-128 to 127", "-129"],
  ["128 in 8 bits with a sign", rssi(128), "value-out-of-range", 28, `${TAG}.PeakRSSI.PeakRSSI`, "-128 to 127", "128"],
];

const faulted = (code: Reason, byte: number, path: string, expected: string, actual: string) => ({
  code,
  byte,
  bit: null,
  path,
  expected,
  actual,
});

describe("encodeLlrp refuses", () => {
  it.each(rows)("%s", (_, content, code, byte, path, expected, actual) => {
    expect(encodeLlrp(content, 1, 1)).toEqual(faulted(code, byte, path, expected, actual));
  });

  it("a version that is wider than its three bits", () => {
    const fault = faulted("value-out-of-range", 0, "header.version", "0 to 7", "8");
    expect(encodeLlrp(element("KEEPALIVE"), 8, 1)).toEqual(fault);
  });

  it("an id of 33 bits", () => {
    const fault = faulted("value-out-of-range", 6, "header.id", U32, "4294967296");
    expect(encodeLlrp(element("KEEPALIVE"), 1, 2 ** 32)).toEqual(fault);
  });

  it("a message of 256 KiB and a byte", () => {
    // Ten bytes of header, four of the maker, one of the subtype.
    const longest = encodeLlrp(custom("00".repeat(2 ** 18 - 15)), 1, 1);
    expect(longest).toHaveLength(2 ** 18);
    const fault = faulted("llrp-length-invalid", 2, "header.length", "at most 262144 bytes", "262145");
    expect(encodeLlrp(custom("00".repeat(2 ** 18 - 14)), 1, 1)).toEqual(fault);
  });

  it("a parameter whose length is wider than 16 bits", () => {
    // Four bytes of header, two of the code, two of the count.
    const answer = (letters: number) => encodeLlrp(element(ANSWER, {}, [status("x".repeat(letters))]), 1, 1);
    expect(answer(65_527)).toHaveLength(10 + 65_535);
    const fault = faulted("llrp-length-invalid", 12, `${ANSWER}.LLRPStatus`, "at most 65535", "65536");
    expect(answer(65_528)).toEqual(fault);
  });
});

describe("encodeLlrp", () => {
  const written = (content: LlrpElement) => formatHex(encodeLlrp(content, 1, 1) as Uint8Array);

  it("takes the least and the most that fit", () => {
    expect(written(rospec(2 ** 32 - 1))).toBe("04150000000e00000001ffffffff");
    expect(written(rssi(-128)).slice(-4)).toBe("8680");
    expect(written(rssi(127)).slice(-4)).toBe("867f");
    expect(written(custom(""))).toBe("07ff0000000f000000010000000102");
  });

  it("lets a maker's parameter stand where no other may", () => {
    const own = element("Custom", { VendorIdentifier: 1, ParameterSubtype: 2, Data: "ab" });
    expect(written(element("KEEPALIVE", {}, [own]))).toBe("043e000000170000000103ff000d0000000100000002ab");
  });

  it("makes no fault of a defect", () => {
    expect(() => encodeLlrp(null as unknown as LlrpElement, 1, 1)).toThrow(TypeError);
  });
});
