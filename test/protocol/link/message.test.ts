/** Message bodies against bytes laid out by hand from the tables of the specification. */
import { describe, expect, it } from "vitest";
import { formatHex, parseHex } from "../../../protocol/bytes/hex.ts";
import { isFault } from "../../../protocol/codec/encode.ts";
import { nameOf, physicalOf, rawOf } from "../../../protocol/codec/record.ts";
import { layout } from "../../../protocol/index.ts";
import { type Direction, decodeMessage, encodeMessage, type Message } from "../../../protocol/link/message.ts";
import { refusalOf, refuse } from "../../../protocol/link/refusal.ts";
import type { Fault } from "../../../protocol/model/reasons.ts";

const bytes = (hex: string) => parseHex(hex) as Uint8Array;

interface Example {
  name: string;
  id: string;
  direction: Direction;
  request: number;
  values: Record<string, number>;
  tails?: Record<string, number[]>;
  body: string;
}

const examples: Example[] = [
  {
    name: "hello",
    id: "hello",
    direction: "to-kit",
    request: 1,
    values: { link_version: 1, max_outstanding: 4 },
    body: "01 0001 01 04",
  },
  {
    name: "a message without payload",
    id: "keep_alive",
    direction: "to-kit",
    request: 65_535,
    values: {},
    body: "0a ffff",
  },
  {
    name: "a negative power",
    id: "set_power",
    direction: "to-kit",
    request: 258,
    values: { power: -150 },
    body: "02 0102 ff6a",
  },
  {
    name: "a write with EPC and words",
    id: "write",
    direction: "to-kit",
    request: 7,
    values: { password: 0xdeadbeef, bank: 3, pointer: 40, word_count: 1, epc_words: 2 },
    tails: { epc: [0x3034, 0x1234], words: [0xcafe] },
    body: "07 0007 deadbeef 03 0028 01 02 3034 1234 cafe",
  },
  {
    name: "a lock",
    id: "lock",
    direction: "to-kit",
    request: 9,
    values: { password: 1, mask: 0b11_0000_0000, action: 0b10_0000_0001, epc_words: 1 },
    tails: { epc: [0xabcd] },
    body: "09 0009 00000001 000c0201 01 abcd",
  },
  {
    name: "a kill",
    id: "kill",
    direction: "to-kit",
    request: 11,
    values: { password: 0x1f2e3d4c, epc_words: 1 },
    tails: { epc: [0xabcd] },
    body: "0b 000b 1f2e3d4c 01 abcd",
  },
  {
    name: "a tag report",
    id: "tag_report",
    direction: "to-host",
    request: 0,
    values: {
      kit_time: 0x0123456789ab,
      pc: 0x3600,
      xpc: 0x0200,
      rssi: -583,
      frequency: 866_300,
      result: 0,
      bank: 3,
      pointer: 0,
      word_count: 2,
      epc_words: 1,
    },
    tails: { epc: [0x3034], words: [0x1111, 0x2222] },
    body: "80 0000 00000123456789ab 3600 0200 fdb9 000d37fc 00 03 0000 02 01 3034 1111 2222",
  },
];

describe("messages", () => {
  // A directory of messages is kept for each layout: a copy has none yet.
  it.each(examples)("$name, of a layout not met before", ({ id, direction, body }) => {
    expect(decodeMessage({ ...layout }, bytes(body), direction)).toMatchObject({ message: { id, direction } });
  });

  it.each(examples)("$name, both ways", ({ id, direction, request, values, tails, body }) => {
    const hex = body.replaceAll(" ", "");
    const encoded = encodeMessage(layout, id, direction, request, values, tails);
    expect(isFault(encoded) ? encoded : formatHex(encoded)).toBe(hex);
    const decoded = decodeMessage(layout, bytes(hex), direction) as Message;
    expect(decoded).toMatchObject({ request, message: { id, direction }, content: { tails: tails ?? {} } });
    for (const [name, raw] of Object.entries(values)) expect(rawOf(decoded.content, name)).toBe(raw);
  });

  it("gives values in their units", () => {
    const { content } = decodeMessage(layout, bytes(examples.at(-1)!.body), "to-host") as Message;
    expect(physicalOf(content, "rssi")).toBe(-58.3);
    expect(nameOf(content, "bank")).toBe("user");
  });

  it.each([
    { name: "a type in no list", body: "33 0001", direction: "to-kit" as const, actual: "0x33" },
    { name: "a type of the other direction", body: "80 0001 00", direction: "to-kit" as const, actual: "0x80" },
    { name: "a request sent to the host", body: "0a 0001", direction: "to-host" as const, actual: "0x0a" },
  ])("calls $name unknown", ({ body, direction, actual }) => {
    const found = { expected: `a message ${direction}`, actual };
    const fault = { code: "message-unknown", byte: 0, bit: 0, path: "envelope.type", ...found };
    expect(decodeMessage(layout, bytes(body), direction)).toEqual(fault);
  });

  it.each([
    { name: "no request id", body: "01", code: "record-too-short", byte: 1, path: "envelope" },
    { name: "a payload cut short", body: "01 0001 01", code: "record-too-short", byte: 4, path: "hello" },
    { name: "bytes too many", body: "01 0001 01 04 00", code: "trailing-bytes", byte: 5, path: "hello" },
    {
      name: "a value out of range",
      body: "01 0001 01 00",
      code: "value-out-of-range",
      byte: 4,
      path: "hello.max_outstanding",
    },
    { name: "a name in no list", body: "03 0001 09", code: "name-unknown", byte: 3, path: "set_channel_plan.plan" },
    {
      name: "fewer words than said",
      body: "07 0007 00000000 03 0028 02 00 cafe",
      code: "count-mismatch",
      byte: 10,
      path: "write.word_count",
    },
    {
      name: "a reserved bit",
      body: "09 0009 00000001 001c0201 00",
      code: "reserved-bit-set",
      byte: 7,
      path: "lock.lock_reserved",
    },
  ])("counts the byte of a fault from the start of the body: $name", ({ body, code, byte, path }) => {
    expect(decodeMessage(layout, bytes(body), "to-kit")).toMatchObject({ code, byte, path });
  });

  it("does not encode what cannot be sent", () => {
    expect(encodeMessage(layout, "hello", "to-kit", 65_536, {})).toMatchObject({ path: "envelope.request", byte: 1 });
    expect(encodeMessage(layout, "hello", "to-kit", 1, { link_version: 1 })).toMatchObject({
      code: "field-missing",
      path: "hello.max_outstanding",
      byte: 4,
    });
    expect(() => encodeMessage(layout, "welcome", "to-kit", 1, {})).toThrow("no message welcome to-kit");
  });
});

describe("refusals", () => {
  it("answers with type, request id, reason number and byte", () => {
    const body = bytes("33 1234 99");
    const fault = decodeMessage(layout, body, "to-kit") as Fault;
    // 43 is the number of message-unknown.
    expect(formatHex(refuse(layout, body, fault))).toBe("7f1234" + "2b" + "33" + "0000");
  });

  it("repeats the request id of a body that has no more, and a byte as high as its field holds", () => {
    const fault: Fault = { code: "message-unknown", byte: 70_000, bit: 0, path: "x", expected: "x", actual: "x" };
    expect(formatHex(refuse(layout, bytes("33 1234"), fault))).toBe("7f12342b33ffff");
  });

  it.each(["", "01", "01 00"])("answers a body as short as '%s'", (hex) => {
    const body = bytes(hex);
    const fault = decodeMessage(layout, body, "to-kit") as Fault;
    const about = hex === "" ? "00" : "01";
    expect(formatHex(refuse(layout, body, fault))).toBe(`7f000001${about}000${body.length}`);
  });

  it("come back as a fault about the message", () => {
    const { content } = decodeMessage(layout, bytes("7f 1234 2d 02 0003"), "to-host") as Message;
    expect(refusalOf(layout, content)).toEqual({
      code: "request-refused",
      byte: 3,
      bit: null,
      path: "set_power",
      expected: "a request the kit can serve",
      actual: "a refusal",
    });
    const unknown = decodeMessage(layout, bytes("7f 1234 fe 33 0003"), "to-host") as Message;
    expect(refusalOf(layout, unknown.content)).toEqual({
      code: "name-unknown",
      byte: 3,
      bit: null,
      path: "message_0x33",
      expected: "the number of a reason code",
      actual: "254",
    });
    // 80h is a report: no kit is asked for one.
    const report = decodeMessage(layout, bytes("7f 1234 2d 80 0003"), "to-host") as Message;
    expect(refusalOf(layout, report.content)).toMatchObject({ path: "message_0x80" });
    const low = decodeMessage(layout, bytes("7f 1234 2d 00 0003"), "to-host") as Message;
    expect(refusalOf(layout, low.content)).toMatchObject({ path: "message_0x00" });
  });
});
