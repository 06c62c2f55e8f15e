import { describe, expect, it } from "vitest";
import { rawOf } from "../../protocol/codec/record.ts";
import { chooseSlot } from "../../protocol/codec/slots.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { bytesOf, placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Both {
  readonly notes: readonly string[];
  readonly faults?: { readonly a?: string; readonly b?: string };
}

const frame = recordOf(layout, "frame");
const choose = (hex: string) => chooseSlot(frame, bytesOf(hex), 0, 16);
const { good, bad } = vectorsOf<{ hex: string; repaired?: string }, Both & { slot: string; sequence: number }, Both>(
  "slots.json",
);

function codesOf({ a, b }: ReturnType<typeof choose>["faults"]) {
  return { a: a?.code, b: b?.code };
}

describe("slots.json", () => {
  it.each(good)("$id", ({ given, expected }) => {
    const choice = choose(given.hex);
    expect(choice.slot).toBe(expected.slot);
    expect(rawOf(choice.frame!, "sequence")).toBe(expected.sequence);
    expect(choice.notes).toEqual(expected.notes);
    expect(codesOf(choice.faults)).toEqual({ a: expected.faults?.a, b: expected.faults?.b });
  });

  it.each(bad)("$id", ({ given, expected }) => {
    const choice = choose(given.hex);
    expect(choice.slot).toBeNull();
    expect(placeOf(choice.fault!)).toEqual(placeAsked(expected));
    expect(choice.notes).toEqual(expected.notes);
    expect(codesOf(choice.faults)).toEqual({ a: expected.faults?.a, b: expected.faults?.b });
    expect(choose(given.repaired!).fault).toBeNull();
  });
});
