import { describe, expect, it } from "vitest";
import { isFault } from "../../protocol/codec/encode.ts";
import { explain } from "../../protocol/codec/explain.ts";
import { layout } from "../../protocol/index.ts";
import { type Direction, decodeMessage, encodeMessage } from "../../protocol/link/message.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { encodable, rawsOf, valuesOf } from "../support/decoded.ts";
import { bytesOf, placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly direction: Direction;
  readonly body: string;
  readonly repaired?: string;
}

interface Content {
  readonly message: string;
  readonly request: number;
  readonly raws: { readonly [id: string]: number | readonly number[] };
  readonly values: object;
  readonly tails: { readonly [id: string]: readonly number[] };
}

const ENVELOPE_BYTES = 3;

interface Later {
  readonly reason: string;
  readonly path: string;
}

const { good, bad } = vectorsOf<Given, Content, { also?: Later[] }>("link-messages.json");

describe("link-messages.json", () => {
  it("has every message of the specification", () => {
    const ids = new Set(good.map(({ expected }) => expected.message));
    expect([...ids].sort()).toEqual(layout.messages.map(({ id }) => id).sort());
  });

  it.each(good)("$id decodes", ({ given, expected }) => {
    const decoded = decodeMessage(layout, bytesOf(given.body), given.direction);
    if (isFault(decoded)) expect.fail(JSON.stringify(decoded));
    expect(decoded.message.id).toBe(expected.message);
    expect(decoded.request).toBe(expected.request);
    expect(rawsOf(decoded.content)).toEqual(expected.raws);
    expect(valuesOf(decoded.content)).toEqual(expected.values);
    expect(decoded.content.tails).toEqual(expected.tails);
  });

  it.each(good)("$id encodes", ({ given, expected }) => {
    const { message, request, raws, tails } = expected;
    expect(encodeMessage(layout, message, given.direction, request, encodable(raws), tails)).toEqual(
      bytesOf(given.body),
    );
  });

  it.each(bad)("$id is rejected", ({ given, expected }) => {
    const fault = decodeMessage(layout, bytesOf(given.body), given.direction);
    expect(isFault(fault) && placeOf(fault)).toEqual(placeAsked(expected));
    expect(isFault(decodeMessage(layout, bytesOf(given.repaired!), given.direction))).toBe(false);
  });

  // What concerns the length of the payload is no field's own fault.
  const inFields = ({ reason, path }: Later) => path.includes(".") && reason !== "count-mismatch";
  it.each(bad.filter(({ expected }) => expected.also?.some(inFields)))(
    "$id has the later fault in its fields too",
    ({ given, expected }) => {
      for (const { reason, path } of expected.also!.filter(inFields)) {
        const { fields } = explain(recordOf(layout, path.split(".")[0]!), bytesOf(given.body), ENVELOPE_BYTES);
        expect(fields.find(({ field }) => field.path === path)?.reason).toBe(reason);
      }
    },
  );
});
