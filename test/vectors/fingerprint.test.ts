import { describe, expect, it } from "vitest";
import { makeChecksum } from "../../protocol/bytes/crc.ts";
import { isFault } from "../../protocol/codec/encode.ts";
import { identifyHeader } from "../../protocol/codec/identify.ts";
import { layout } from "../../protocol/index.ts";
import { canonicalText } from "../../protocol/model/canonical.ts";
import { checksums } from "../../protocol/model/checksums.ts";
import { specification } from "../../protocol/spec/plyframe.ts";
import { bytesOf, placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly lines?: readonly string[];
  readonly change?: { readonly line: number; readonly was: string; readonly now: string };
  readonly hex?: string;
  readonly reader?: { readonly layout: number; readonly fingerprint: string };
  readonly repaired?: string;
}

const { good, bad } = vectorsOf<Given, { fingerprint: string }>("fingerprint.json");
const crc32 = makeChecksum(checksums.crc32);
const lines = canonicalText(specification).split("\n");

function numberOf(text: string): string {
  const bytes = new TextEncoder().encode(text);
  return crc32(bytes, 0, bytes.length).toString(16).padStart(8, "0");
}

describe("fingerprint.json", () => {
  it.each(good.filter(({ given }) => given.lines))("$id", ({ given, expected }) => {
    expect(lines).toEqual([...given.lines!, ""]);
    expect(layout.fingerprint).toBe(Number.parseInt(expected.fingerprint, 16));
  });

  it.each(good.filter(({ given }) => given.change))("$id", ({ given, expected }) => {
    const { line, was, now } = given.change!;
    expect(lines[line]).toBe(was);
    expect(numberOf(lines.map((text, i) => (i === line ? now : text)).join("\n"))).toBe(expected.fingerprint);
  });

  it.each([...good, ...bad].filter(({ given }) => given.hex))("$id is for this reader", ({ given }) => {
    expect(Number.parseInt(given.reader!.fingerprint, 16)).toBe(layout.fingerprint);
    expect(given.reader!.layout).toBe(layout.layout);
  });

  it.each(good.filter(({ given }) => given.hex))("$id", ({ given }) => {
    expect(isFault(identifyHeader([layout], bytesOf(given.hex!)))).toBe(false);
  });

  it.each(bad)("$id is named", ({ given, expected }) => {
    const fault = identifyHeader([layout], bytesOf(given.hex!));
    expect(isFault(fault) && placeOf(fault)).toEqual(placeAsked(expected));
    expect(isFault(identifyHeader([layout], bytesOf(given.repaired!)))).toBe(false);
  });
});
