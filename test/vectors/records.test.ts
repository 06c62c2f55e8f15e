import { describe, expect, it } from "vitest";
import { encode, isFault } from "../../protocol/codec/encode.ts";
import { explain } from "../../protocol/codec/explain.ts";
import { decodeWithParser } from "../../protocol/codec/parser.ts";
import { decode } from "../../protocol/codec/record.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { encodable, rawsOf, valuesOf } from "../support/decoded.ts";
import { bytesOf, placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly record: string;
  readonly hex: string;
  readonly repaired?: string;
}

interface Decoded {
  readonly raws: { readonly [id: string]: number | readonly number[] };
  readonly values: object;
}

interface Later {
  readonly reason: string;
  readonly path: string;
}

const files = ["frames", "header", "counters", "calibration", "burst", "banks", "verdict-order"];

describe.each(files)("%s.json", (name) => {
  const { good, bad } = vectorsOf<Given, Decoded, { arrived?: string[]; also?: Later[] }>(`${name}.json`);

  it.each(good)("$id decodes", ({ given, expected }) => {
    const record = recordOf(layout, given.record);
    for (const decoded of [decode(record, bytesOf(given.hex)), decodeWithParser(record, bytesOf(given.hex))]) {
      if (isFault(decoded)) expect.fail(JSON.stringify(decoded));
      expect(rawsOf(decoded)).toEqual(expected.raws);
      expect(valuesOf(decoded)).toEqual(expected.values);
    }
  });

  it.each(good)("$id encodes", ({ given, expected }) => {
    expect(encode(recordOf(layout, given.record), encodable(expected.raws))).toEqual(bytesOf(given.hex));
  });

  it.each(bad)("$id is rejected", ({ given, expected }) => {
    const record = recordOf(layout, given.record);
    for (const fault of [decode(record, bytesOf(given.hex)), decodeWithParser(record, bytesOf(given.hex))]) {
      expect(isFault(fault) && placeOf(fault)).toEqual(placeAsked(expected));
    }
    const explained = explain(record, bytesOf(given.hex));
    expect(explained.fault?.code).toBe(expected.reason);
    if (expected.arrived) expect(explained.fields.map(({ field }) => field.id)).toEqual(expected.arrived);
  });

  it.each(bad.filter(({ given }) => given.repaired !== undefined))("$id is good without its fault", ({ given }) => {
    expect(isFault(decode(recordOf(layout, given.record), bytesOf(given.repaired!)))).toBe(false);
  });

  it.each(bad.filter(({ expected }) => expected.also !== undefined))(
    "$id has the later faults in its fields too",
    ({ given, expected }) => {
      const told = explain(recordOf(layout, given.record), bytesOf(given.hex)).fields;
      const reasons = told.map(({ field, reason }) => `${field.path} ${reason}`);
      const inFields = expected.also!.filter(({ path }) => path.includes("."));
      for (const { reason, path } of inFields) expect(reasons).toContain(`${path} ${reason}`);
    },
  );
});
