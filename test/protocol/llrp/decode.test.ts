/** What a fault says of damaged messages. The bytes are packed by hand from the standard's tables of LLRP 1.0.1. */
import { describe, expect, it } from "vitest";
import { decodeLlrp } from "../../../protocol/llrp/decode.ts";
import { element } from "../../../protocol/llrp/vocabulary.ts";
import type { Reason } from "../../../protocol/model/reasons.ts";
import { bytesOf } from "../../support/vectors.ts";

type Row = readonly [
  what: string,
  wire: string,
  code: Reason,
  byte: number,
  path: string,
  expected: string,
  actual: string,
];

/** LLRPStatus, 287 = 11fh: 8 bytes, M_Success, no text. */
const STATUS = "011f000800000000";

const rows: readonly Row[] = [
  ["less than a header", "043e000000", "record-too-short", 5, "header", "10 bytes", "5 bytes"],
  [
    "a length below a header's",
    "043e00000009000000c8",
    "llrp-length-invalid",
    2,
    "header.length",
    "10 to 262144 bytes",
    "9",
  ],
  ["version 3", "0c3e0000000a000000c8", "llrp-version-unsupported", 0, "header.version", "1 or 2", "3"],
  ["a message with number 5", "04050000000a00000001", "message-unknown", 0, "header.type", "a message of LLRP", "5"],
  ["a message cut off", "043e0000000c000000c8", "record-too-short", 10, "KEEPALIVE", "12 bytes", "10 bytes"],
  ["a byte behind a message", "043e0000000a000000c800", "trailing-bytes", 10, "KEEPALIVE", "10 bytes", "11 bytes"],
  [
    "a parameter where none may be",
    `043e00000012000000c8${STATUS}`,
    "llrp-parameter-unexpected",
    10,
    "KEEPALIVE",
    "none",
    "LLRPStatus",
  ],
  [
    "an Uptime (129 = 81h) where two others may be",
    "042400000016000000010081000c0000000000000000",
    "llrp-parameter-unexpected",
    10,
    "GET_ROSPECS_RESPONSE",
    "LLRPStatus, ROSpec",
    "Uptime",
  ],
  [
    "a second status",
    `040d0000001a00000001${STATUS}${STATUS}`,
    "llrp-parameter-unexpected",
    18,
    "SET_READER_CONFIG_RESPONSE",
    "one LLRPStatus",
    "a second",
  ],
  ["no status", "040d0000000a00000001", "field-missing", 10, "SET_READER_CONFIG_RESPONSE", "LLRPStatus", "none"],
  [
    "neither of two clocks",
    "043f0000000e0000000100f60004",
    "field-missing",
    14,
    "READER_EVENT_NOTIFICATION.ReaderEventNotificationData",
    "UTCTimestamp or Uptime",
    "none",
  ],
  [
    "TV parameter 21",
    "043d0000000b0000000195",
    "llrp-parameter-unknown",
    10,
    "RO_ACCESS_REPORT",
    "a type whose size is known",
    "TV parameter 21",
  ],
  [
    "TV parameter 0, whose first byte is 80h",
    "043d0000000e0000000180000000",
    "llrp-parameter-unknown",
    10,
    "RO_ACCESS_REPORT",
    "a type whose size is known",
    "TV parameter 0",
  ],
  [
    "three bytes of a parameter's header",
    "040d0000000d00000001011f00",
    "llrp-length-invalid",
    10,
    "SET_READER_CONFIG_RESPONSE",
    "4 bytes of a header",
    "3",
  ],
  [
    "the last reserved bit of a parameter's header",
    "040d0000001200000001051f000800000000",
    "reserved-bit-set",
    10,
    "SET_READER_CONFIG_RESPONSE",
    "0",
    "1",
  ],
  [
    "a parameter shorter than its header",
    "040d0000001200000001011f000300000000",
    "llrp-length-invalid",
    12,
    "SET_READER_CONFIG_RESPONSE.LLRPStatus",
    "4 to 8 bytes",
    "3",
  ],
  [
    "a parameter of an unknown number, longer than what is left",
    "040d0000000e0000000100640005",
    "llrp-length-invalid",
    12,
    "SET_READER_CONFIG_RESPONSE.100",
    "4 to 4 bytes",
    "5",
  ],
  [
    "a text of five bytes of which none is there",
    "040d0000001200000001011f000800000005",
    "count-mismatch",
    16,
    "SET_READER_CONFIG_RESPONSE.LLRPStatus.ErrorDescription",
    "5 bytes",
    "0 bytes",
  ],
  [
    "three of four bytes of an integer",
    "04150000000d00000001000000",
    "llrp-length-invalid",
    10,
    "DELETE_ROSPEC.ROSpecID",
    "4 bytes",
    "3 bytes",
  ],
  [
    // GeneralDeviceCapabilities, 137 = 89h: 16 bits, two flags, 14 reserved bits; three bytes of these four.
    "one of two bytes that reserved bits end in",
    "040b000000110000000100890007000100",
    "llrp-length-invalid",
    16,
    "GET_READER_CAPABILITIES_RESPONSE.GeneralDeviceCapabilities.reserved",
    "2 bytes",
    "1 bytes",
  ],
];

describe("decodeLlrp refuses", () => {
  it.each(rows)("%s", (_, wire, code, byte, path, expected, actual) => {
    expect(decodeLlrp(bytesOf(wire))).toEqual({ code, byte, bit: null, path, expected, actual });
  });

  it("the third of three reserved bits in front of the version", () => {
    const fault = { code: "reserved-bit-set", byte: 0, bit: 13, path: "header.reserved", expected: "0", actual: "1" };
    expect(decodeLlrp(bytesOf("243e0000000a000000c8"))).toEqual(fault);
  });

  it("a parameter in more than 16 others", () => {
    // LLRPStatus and, each in the one before, ParameterError: 289 = 121h, 8 bytes without what is inside.
    const nested = (errors: number) => {
      const inside = Array.from({ length: errors }, (_, i) => `0121${word(8 * (errors - i))}00000000`).join("");
      return bytesOf(`040d0000${word(18 + 8 * errors)}00000001011f${word(8 + 8 * errors)}00000000${inside}`);
    };
    expect(decodeLlrp(nested(15))).toMatchObject({ name: "SET_READER_CONFIG_RESPONSE" });
    const path = ["SET_READER_CONFIG_RESPONSE.LLRPStatus", ...Array(15).fill("ParameterError")].join(".");
    const fault = { code: "llrp-parameter-unexpected", byte: 138, bit: null, path };
    expect(decodeLlrp(nested(16))).toEqual({ ...fault, expected: "16 levels", actual: "more" });
  });
});

const word = (value: number) => value.toString(16).padStart(4, "0");

describe("decodeLlrp", () => {
  it("looks at the bytes it is given, not at those around them", () => {
    const around = bytesOf("ffff043e0000000a000000c8ffff");
    const found = { ...element("KEEPALIVE"), version: 1, id: 200, skipped: [] };
    expect(decodeLlrp(around.subarray(2, 12))).toEqual(found);
  });

  it("skips a TLV parameter that has the number of a TV parameter: 1 is AntennaID as TV alone", () => {
    const found = { ...element("RO_ACCESS_REPORT"), version: 1, id: 1, skipped: [{ type: 1, byte: 10 }] };
    expect(decodeLlrp(bytesOf("043d0000000e0000000100010004"))).toEqual(found);
  });

  it("makes no fault of a defect", () => {
    expect(() => decodeLlrp(null as unknown as Uint8Array)).toThrow(TypeError);
  });
});
