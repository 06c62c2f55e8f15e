import { describe, expect, it } from "vitest";
import { formatHex } from "../../protocol/bytes/hex.ts";
import { encode, isFault } from "../../protocol/codec/encode.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { encodable } from "../support/decoded.ts";
import { placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Values {
  readonly record: string;
  readonly raws: { readonly [id: string]: number | readonly number[] };
  readonly tails?: { readonly [id: string]: readonly number[] };
}

const { good, bad } = vectorsOf<Values & { readonly repaired?: Values }, { hex: string }>("writing.json");
const written = ({ record, raws, tails = {} }: Values) => encode(recordOf(layout, record), encodable(raws), tails);

describe("writing.json", () => {
  it.each(good)("$id", ({ given, expected }) => {
    const bytes = written(given);
    expect(isFault(bytes) ? bytes : formatHex(bytes)).toBe(expected.hex);
  });

  it.each(bad)("$id is refused", ({ given, expected }) => {
    const fault = written(given);
    expect(isFault(fault) ? placeOf(fault) : formatHex(fault)).toEqual(placeAsked(expected));
    expect(isFault(written(given.repaired!))).toBe(false);
  });
});
