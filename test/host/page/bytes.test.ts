/** The view of the bytes without its elements. Values were worked by hand from protocol/MEMORY-MAP.md unless said otherwise. */
import { describe, expect, it } from "vitest";
import { bitsIn, boardOf, type ShownRecord } from "../../../host/page/bytes/board.ts";
import { fieldWords } from "../../../host/page/bytes/field-words.ts";
import { neighbour } from "../../../host/page/bytes/word-tables.ts";
import { Text } from "../../../host/page/text/text.ts";
import { encode, isFault, layout, parseHex, type RawValues, recordOf } from "../../../protocol/index.ts";

const [english, german] = [new Text("en"), new Text("de")];

/** The frame in README.md, whose seal is good: pressure 12941873 / 128 Pa, 30.27 Cel, 2.625 V, 60 s. */
const FRAME = "2101 0007 00c5 7a31 0bd3 a410 0258 a0cd";

const bytesOf = (hex: string) => parseHex(hex) as Uint8Array;

/** A frame that the specification's encoder seals; what is not given is as in FRAME. */
function sealed(raws: RawValues): string {
  const given = { status: 0, sequence: 8, pressure: 12941873, temperature: 3027, supply: 2625, uptime: 600, ...raws };
  const bytes = encode(recordOf(layout, "frame"), given);
  if (isFault(bytes)) throw new Error(bytes.code);
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

const word = (record: ShownRecord, address: number) => record.words.find((one) => one.word === address)!;

describe("a run of words", () => {
  it("has the frames first, both slots side by side, and the rest in the order of the bank", () => {
    const board = boardOf(new Uint8Array(208), 0);
    expect(board.groups.map((group) => group.map(({ region }) => region))).toEqual([
      ["slot_a", "slot_b"],
      ["header"],
      ["counters_a", "counters_b"],
      ["calibration_1", "calibration_2"],
      ["burst"],
    ]);
  });

  it("shows each word at its address with the fields that have bits in it", () => {
    const [[slot]] = boardOf(bytesOf(FRAME), 8).groups as [[ShownRecord]];
    expect(slot.words.map((one) => [one.word, one.hex, one.fields.map(({ field }) => field.id)])).toEqual([
      [8, "2101", ["kind", "layout", "status"]],
      [9, "0007", ["sequence"]],
      [10, "00c5", ["reserved", "pressure"]],
      [11, "7a31", ["pressure"]],
      [12, "0bd3", ["temperature"]],
      [13, "a410", ["supply", "uptime"]],
      [14, "0258", ["uptime"]],
      [15, "a0cd", ["seal"]],
    ]);
    expect(slot.words.some(({ faulty }) => faulty)).toBe(false);
  });

  it("says which bits of a word are a field's, also where the field goes on in the next word", () => {
    const [[slot]] = boardOf(bytesOf(FRAME), 8).groups as [[ShownRecord]];
    const bits = (address: number) => {
      const { byte, fields } = word(slot, address);
      return fields.map((field) => [field.field.id, bitsIn(field, byte)]);
    };
    expect(bits(10)).toEqual([
      ["reserved", { high: 15, low: 8 }],
      ["pressure", { high: 7, low: 0 }],
    ]);
    expect(bits(11)).toEqual([["pressure", { high: 15, low: 0 }]]);
    expect(bits(13)).toEqual([
      ["supply", { high: 15, low: 4 }],
      ["uptime", { high: 3, low: 0 }],
    ]);
  });

  it("marks the word in which a rejection lies, and only that", () => {
    const spoilt = FRAME.replace("a0cd", "a0cc");
    const [[slot]] = boardOf(bytesOf(spoilt), 8).groups as [[ShownRecord]];
    expect(slot.explanation.fault).toMatchObject({ code: "checksum-mismatch", actual: "0xa0cc", expected: "0xa0cd" });
    expect(slot.words.filter(({ faulty }) => faulty).map((one) => one.word)).toEqual([15]);
    const reserved = FRAME.replace("00c5", "01c5");
    const [[other]] = boardOf(bytesOf(reserved), 8).groups as [[ShownRecord]];
    expect(word(other, 10).faulty).toBe(true);
    expect(word(other, 9).faulty).toBe(false);
  });

  it("finds no word at fault in a record that was never written or that came in part", () => {
    const [[empty]] = boardOf(new Uint8Array(16), 8).groups as [[ShownRecord]];
    expect(empty.explanation.fault?.code).toBe("record-empty");
    const [[part]] = boardOf(bytesOf("2101 0007 00"), 8).groups as [[ShownRecord]];
    expect(part.explanation.fault?.code).toBe("record-too-short");
    expect([...empty.words, ...part.words].some(({ faulty }) => faulty)).toBe(false);
    expect(part.words.map(({ hex }) => hex)).toEqual(["2101", "0007", "00"]);
  });

  it("says which slot counts, and only when both came", () => {
    const [older, newer] = [FRAME, sealed({ sequence: 8 })];
    expect(boardOf(bytesOf(older + newer), 8).choice?.slot).toBe("b");
    expect(boardOf(bytesOf(newer + older), 8).choice?.slot).toBe("a");
    expect(boardOf(bytesOf(older + newer.replace(/.$/, "0")), 8).choice?.slot).toBe("a");
    expect(boardOf(bytesOf(FRAME), 8).choice).toBeNull();
  });
});

describe("a field in words", () => {
  const [[slot]] = boardOf(bytesOf(FRAME), 8).groups as [[ShownRecord]];
  const shown = (id: string, text: Text, record = slot) =>
    Object.values(fieldWords(record.explanation.fields.find(({ field }) => field.id === id)!, text))
      .join(" ")
      .trim();

  it("has value and unit in the language", () => {
    expect(["temperature", "supply", "uptime", "pressure"].map((id) => shown(id, english))).toEqual([
      "30.27 °C",
      "2.625 V",
      "60 s",
      "101108.3828125 Pa",
    ]);
    expect([shown("temperature", german), shown("reserved", german)]).toEqual(["30,27 °C", "null, wie es sein muss"]);
  });

  it("has a word where there is no number", () => {
    expect([
      shown("status", english),
      shown("kind", english),
      shown("seal", english),
      shown("sequence", english),
    ]).toEqual(["first_after_cold_start", "as it must be", "0xa0cd", "7"]);
    const [[other]] = boardOf(bytesOf(FRAME.replace("2101 ", "3100 ").replace("00c5", "80c5")), 8).groups as [
      [ShownRecord],
    ];
    expect([shown("kind", english, other), shown("status", english, other), shown("reserved", english, other)]).toEqual(
      ["must be 2", "none set", "must be zero"],
    );
  });

  it("never shows a sentinel as a number", () => {
    // All ones in 24 bits, which the map calls not_measured.
    const [[none]] = boardOf(bytesOf(sealed({ pressure: 0xffffff })), 8).groups as [[ShownRecord]];
    expect(shown("pressure", english, none)).toBe("not_measured");
  });
});

describe("keys", () => {
  const board = boardOf(new Uint8Array(208), 0);
  const from = (region: string, address: number, key: string) => {
    const next = neighbour(board, { region, word: address }, key);
    return next && `${next.region} ${next.word}`;
  };

  it("go down and up through the tables, and across to the other copy", () => {
    expect([from("slot_a", 8, "ArrowDown"), from("slot_a", 9, "ArrowUp"), from("slot_a", 15, "ArrowDown")]).toEqual([
      "slot_a 9",
      "slot_a 8",
      "slot_b 16",
    ]);
    expect([from("slot_a", 12, "ArrowRight"), from("slot_b", 20, "ArrowLeft")]).toEqual(["slot_b 20", "slot_a 12"]);
    expect([from("slot_a", 12, "Home"), from("slot_a", 12, "End")]).toEqual(["slot_a 8", "burst 103"]);
  });

  it("stay where there is nothing further, and leave other keys alone", () => {
    expect([from("slot_a", 8, "ArrowUp"), from("burst", 103, "ArrowDown"), from("slot_a", 8, "ArrowLeft")]).toEqual([
      null,
      null,
      null,
    ]);
    expect([from("header", 0, "ArrowRight"), from("slot_a", 8, "x"), from("slot_a", 300, "ArrowDown")]).toEqual([
      null,
      null,
      null,
    ]);
  });
});
