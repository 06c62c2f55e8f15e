import { describe, expect, it } from "vitest";
import { isFault } from "../../protocol/codec/encode.ts";
import { decode, rawOf } from "../../protocol/codec/record.ts";
import { storedCrc } from "../../protocol/epc/pc.ts";
import { layout } from "../../protocol/index.ts";
import { recordOf } from "../../protocol/model/layout.ts";
import { bytesOf, placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly pc?: string;
  readonly epc?: string;
  readonly hex?: string;
  readonly repaired?: string;
}

const epc = recordOf(layout, "epc");
const { good, bad } = vectorsOf<Given, { stored_crc: string }>("stored-crc.json");

describe("stored-crc.json", () => {
  it.each(good.filter(({ given }) => given.pc !== undefined))("$id", ({ given, expected }) => {
    const words = (given.epc!.match(/..../g) ?? []).map((word) => Number.parseInt(word, 16));
    expect(storedCrc(Number.parseInt(given.pc!, 16), words)).toBe(Number.parseInt(expected.stored_crc, 16));
  });

  it.each(good.filter(({ given }) => given.hex !== undefined))("$id", ({ given, expected }) => {
    const decoded = decode(epc, bytesOf(given.hex!));
    if (isFault(decoded)) expect.fail(JSON.stringify(decoded));
    expect(rawOf(decoded, "stored_crc")).toBe(Number.parseInt(expected.stored_crc, 16));
  });

  it.each(bad)("$id is rejected", ({ given, expected }) => {
    const fault = decode(epc, bytesOf(given.hex!));
    expect(isFault(fault) && placeOf(fault)).toEqual(placeAsked(expected));
    expect(isFault(decode(epc, bytesOf(given.repaired!)))).toBe(false);
  });
});
