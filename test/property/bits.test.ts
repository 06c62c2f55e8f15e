/**
 * What the seal must catch, exhaustively: every wrong record below must be rejected, whatever reason comes first.
 * The records are spread over the value space by hand: extremes, sentinels and an ordinary sample.
 */
import { describe, expect, it } from "vitest";
import { type Decoder, makeDecoder } from "../../protocol/codec/decode.ts";
import { encode, isFault, type RawValues } from "../../protocol/codec/encode.ts";
import { type CompiledRecord, compile, recordOf } from "../../protocol/model/layout.ts";
import { sentence } from "../../protocol/model/reasons.ts";
import { specification } from "../../protocol/spec/plyframe.ts";

const layout = compile(specification);

/** Sealed bytes: `choose` gives a field's raw value; constants, reserved bits and the seal are the encoder's. */
function sealed(record: CompiledRecord, choose: (field: CompiledRecord["fields"][number], i: number) => number) {
  const values: RawValues = Object.fromEntries(record.fields.map((field, i) => [field.id, choose(field, i)]));
  const bytes = encode(record, values);
  if (isFault(bytes)) throw new Error(sentence(bytes));
  return bytes;
}

function variants(record: CompiledRecord): { name: string; bytes: Uint8Array }[] {
  const pick = (number: "min" | "max" | "middle") => (field: CompiledRecord["fields"][number], i: number) => {
    if (field.type === "flags") return number === "min" ? 0 : number === "max" ? field.named! : 1;
    if (field.type === "enumeration") return field.names![number === "min" ? 0 : field.names!.length - 1]!.raw;
    if (number !== "middle") return field[number] ?? 0;
    const [min, max] = [field.min ?? 0, field.max ?? 0];
    return min + Math.floor((max - min) * ((i * 0.618) % 1));
  };
  const absent = (field: CompiledRecord["fields"][number], i: number) =>
    field.sentinels?.[0]?.raw ?? pick("max")(field, i);
  return [
    { name: "lowest values", bytes: sealed(record, pick("min")) },
    { name: "highest values", bytes: sealed(record, pick("max")) },
    { name: "mixed values", bytes: sealed(record, pick("middle")) },
    { name: "sentinels", bytes: sealed(record, absent) },
  ];
}

function flip(bytes: Uint8Array, bit: number): void {
  bytes[bit >> 3]! ^= 0x80 >> (bit & 7);
}

/** Number of wrong copies with exactly one, two and three bits flipped that pass as good, and how many were tried. */
function survivors(decoder: Decoder, bytes: Uint8Array, fields: number, most: 2 | 3) {
  const raws = new Float64Array(fields);
  const copy = Uint8Array.from(bytes);
  const bits = bytes.length * 8;
  const passes = () => (decoder(copy, 0, copy.length, raws) === 0 ? 1 : 0);
  let passed = 0;
  let tried = 0;
  for (let i = 0; i < bits; i++) {
    flip(copy, i);
    passed += passes();
    tried++;
    for (let j = i + 1; j < bits; j++) {
      flip(copy, j);
      passed += passes();
      tried++;
      for (let k = j + 1; most === 3 && k < bits; k++) {
        flip(copy, k);
        passed += passes();
        tried++;
        flip(copy, k);
      }
      flip(copy, j);
    }
    flip(copy, i);
  }
  expect(copy).toEqual(bytes);
  return { passed, tried };
}

const choose = (n: number, k: number): number => (k === 0 ? 1 : (choose(n - 1, k - 1) * n) / k);

describe.each([
  { id: "frame", most: 3 },
  { id: "header", most: 3 },
  { id: "counters", most: 3 },
  { id: "calibration", most: 2 },
  { id: "burst", most: 2 },
] as const)("every error of up to $most bits in a $id is rejected", ({ id, most }) => {
  const record = recordOf(layout, id);
  const decoder = makeDecoder(record);

  it.each(variants(record))("$name", ({ bytes }) => {
    expect(decoder(bytes, 0, bytes.length, new Float64Array(record.fields.length))).toBe(0);
    const { passed, tried } = survivors(decoder, bytes, record.fields.length, most);
    const bits = bytes.length * 8;
    expect(tried).toBe(choose(bits, 1) + choose(bits, 2) + (most === 3 ? choose(bits, 3) : 0));
    expect(passed).toBe(0);
  });
});

/** Copies with one burst: any pattern whose first and last bit are wrong, at every place, up to 16 bits long. */
function burstSurvivors(decoder: Decoder, bytes: Uint8Array, fields: number) {
  const raws = new Float64Array(fields);
  const copy = Uint8Array.from(bytes);
  const bits = bytes.length * 8;
  let passed = 0;
  let tried = 0;
  for (let length = 1; length <= 16; length++) {
    const inner = length > 2 ? 2 ** (length - 2) : 1;
    for (let first = 0; first + length <= bits; first++) {
      for (let pattern = 0; pattern < inner; pattern++) {
        const wrong = length === 1 ? 1 : (1 << (length - 1)) | (pattern << 1) | 1;
        const shift = 24 - length - (first & 7);
        const spread = wrong << shift;
        const at = first >> 3;
        for (let i = 0; i < 3 && at + i < bytes.length; i++) copy[at + i]! ^= (spread >> (16 - 8 * i)) & 0xff;
        if (decoder(copy, 0, copy.length, raws) === 0) passed++;
        tried++;
        for (let i = 0; i < 3 && at + i < bytes.length; i++) copy[at + i] = bytes[at + i]!;
      }
    }
  }
  return { passed, tried };
}

describe("every burst of up to 16 bits is rejected", () => {
  it.each(["frame", "header", "counters"])("%s", (id) => {
    const record = recordOf(layout, id);
    const { bytes } = variants(record)[2]!;
    const { passed, tried } = burstSurvivors(makeDecoder(record), bytes, record.fields.length);
    const bits = bytes.length * 8;
    let expected = bits;
    for (let length = 2; length <= 16; length++) expected += (bits - length + 1) * 2 ** (length - 2);
    expect(tried).toBe(expected);
    expect(passed).toBe(0);
  });
});

describe("the seal is the least that will do", () => {
  // 1021h has weight-4 codewords at any length (Koopman and Chakravarty 2004, from memory): four bits can pass.
  it("some error of four bits leaves the seal right", () => {
    const generator = 0x11021; // x^16 + x^12 + x^5 + 1, as an error pattern of its own.
    const record = recordOf(layout, "frame");
    const { bytes } = variants(record)[0]!;
    // Over the lowest bits of supply and uptime, where every value is allowed.
    const copy = Uint8Array.from(bytes);
    for (let bit = 0; bit < 17; bit++) if ((generator >> bit) & 1) flip(copy, 8 * 14 - 1 - bit);
    expect(makeDecoder(record)(copy, 0, copy.length, new Float64Array(record.fields.length))).toBe(0);
  });
});
