/** Chains emitted for containers of every width, order and sign, run and compared with values worked by hand. */
import { describe, expect, it } from "vitest";
import { emitParsers } from "../../../protocol/emit/parsers.ts";
import { compile } from "../../../protocol/model/layout.ts";
import type { ContainerBits, FieldSpec, NumberField, Specification } from "../../../protocol/model/vocabulary.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { evaluateParsers } from "../../support/evaluate.ts";
import { small } from "../../support/small-specification.ts";

type Place = readonly [id: string, at: number, container: ContainerBits, bits: readonly [number, number]];

function number([id, at, container, bits]: Place, more: Partial<NumberField> = {}): NumberField {
  const width = bits[0] - bits[1] + 1;
  const signed = more.type === "signed";
  return {
    id,
    type: "unsigned",
    at,
    container,
    bits,
    unit: "one",
    scale: { num: 1, den: 1 },
    rounding: "floor",
    outOfRange: "reject",
    range: signed ? [-(2 ** (width - 1)), 2 ** (width - 1) - 1] : [0, 2 ** width - 1],
    why: "Test.",
    ...more,
  };
}

function textOf(fields: readonly FieldSpec[], bytes: number): string {
  const record = { id: "probe", title: "Probe", why: "Test.", bytes, fields };
  const specified: Specification = { name: "probe", layout: 1, records: [record], banks: [], messages: [] };
  return emitParsers(compile(specified))[0]!.text;
}

function readersOf(fields: readonly FieldSpec[], bytes: number) {
  return evaluateParsers(textOf(fields, bytes)).readers;
}

const little = { order: "little" } as const;
const signed = { type: "signed" } as const;

describe("emitParsers", () => {
  it("slices a little-endian container as a whole: 34 12 is 1234h, so a is 1h and b is 234h", () => {
    const fields = [number(["a", 0, 16, [15, 12]], little), number(["b", 0, 16, [11, 0]], little)];
    expect(readersOf(fields, 2).probe!(Uint8Array.of(0x34, 0x12))).toEqual([0x1, 0x234]);
  });

  it("reads two's complement in part of a container and in the whole of it", () => {
    const fields = [
      number(["high", 0, 32, [31, 24]], signed),
      number(["low", 0, 32, [23, 0]], signed),
      number(["word", 4, 16, [15, 0]], { ...signed, ...little }),
      number(["octet", 6, 8, [7, 0]], signed),
      number(["wide", 7, 32, [31, 0]], signed),
    ];
    const bytes = Uint8Array.of(0x80, 0xff, 0xff, 0xfe, 0x00, 0x80, 0xff, 0x80, 0, 0, 0);
    expect(readersOf(fields, 11).probe!(bytes)).toEqual([-128, -2, -32_768, -1, -2_147_483_648]);
  });

  it("reads 32 bits unsigned above 2^31 and 53 bits of a 64-bit container", () => {
    const fields = [
      number(["word", 0, 32, [31, 0]]),
      number(["top", 4, 64, [63, 53]]),
      number(["rest", 4, 64, [52, 0]]),
      number(["minus", 12, 64, [52, 0]], { ...signed, ...little }),
      number(["above", 12, 64, [63, 53]], little),
    ];
    const bytes = Uint8Array.of(
      255,
      255,
      255,
      254,
      255,
      255,
      255,
      255,
      255,
      255,
      255,
      255,
      254,
      255,
      255,
      255,
      255,
      255,
      31,
      0,
    );
    // rest: all 53 bits set; minus: 1ffffffffffffeh in 53 bits is -2.
    expect(readersOf(fields, 20).probe!(bytes)).toEqual([4_294_967_294, 2047, 2 ** 53 - 1, -2, 0]);
  });

  it("reads arrays element by element and tails by their count", () => {
    const { readers, tailReaders } = evaluateParsers(emitParsers(compile(small))[0]!.text);
    const sample = Uint8Array.of(0x21, 0x03, 0xff, 0x9c, 0x00, 0x02, 7, 8, 0xab, 0xcd);
    expect(readers.sample!(sample)).toEqual([2, 1, 3, -100, 0, 2, 7, 8, 0xabcd]);
    expect(tailReaders.ask!(Uint8Array.of(2, 0x12, 0x34, 0x56, 0x78))).toEqual({ items: [0x1234, 0x5678] });
    expect(tailReaders.ask!(Uint8Array.of(0))).toEqual({ items: [] });
  });

  it("reads containers in the order of the bytes and gives values in the order of the fields", () => {
    const fields = [number(["late", 2, 8, [7, 0]]), number(["early", 0, 16, [15, 0]])];
    expect(readersOf(fields, 3).probe!(Uint8Array.of(0x12, 0x34, 0x56))).toEqual([0x56, 0x1234]);
  });

  it("says of a number what it means, where that is not the number itself", () => {
    const sentinels = [
      { raw: 254, id: "above", means: "saturated" },
      { raw: 255, id: "away", means: "absent" },
    ] as const;
    const text = textOf(
      [
        number(["plain", 0, 8, [7, 0]]),
        number(["twice", 1, 8, [7, 0]], { scale: { num: 2, den: 1 } }),
        number(["more", 2, 8, [7, 0]], { scale: { num: 1, den: 1, add: 5 } }),
        number(["special", 3, 8, [7, 0]], { range: [0, 253], sentinels }),
      ],
      4,
    );
    expect(text).toContain("// plain: 0 to 255\n");
    expect(text).toContain("// twice: 0 to 255, 0 to 510\n");
    expect(text).toContain("// more: 0 to 255, 5 to 260\n");
    expect(text).toContain("// special: 0 to 253, 254 above, 255 away\n");
  });

  it("uses no bit fields and has one line a field with raw and physical range", () => {
    const text = emitParsers(compile(specification))[0]!.text;
    expect(text).not.toMatch(/\.bit\d+\(/);
    expect(text).toMatch(
      /c\.byte4 & 0xffffff, \/\/ pressure: 3328000 to 16128000, 26000 to 126000 Pa, 16777215 not_measured/,
    );
  });
});
