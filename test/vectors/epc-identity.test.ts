import { describe, expect, it } from "vitest";
import { isFault } from "../../protocol/codec/encode.ts";
import { parseEpc } from "../../protocol/epc/identity.ts";
import { encodeEpc } from "../../protocol/epc/uri.ts";
import type { Fault } from "../../protocol/model/reasons.ts";
import { placeAsked, placeOf, vectorsOf } from "../support/vectors.ts";

interface Given {
  readonly hex?: string;
  readonly tag_uri?: string;
  readonly repaired?: string;
}

interface Identity {
  readonly scheme: string;
  readonly filter: number;
  readonly company_prefix: string;
  readonly item_reference?: string;
  readonly asset_type?: string;
  readonly asset_reference?: string;
  readonly serial?: string;
  readonly tag_uri: string;
  readonly pure_uri: string;
}

const { good, bad } = vectorsOf<Given, Identity>("epc-identity.json");

function told(answer: string | Fault): unknown {
  return typeof answer === "string" ? answer : placeOf(answer);
}

describe("epc-identity.json", () => {
  it.each(good)("$id reads", ({ given, expected }) => {
    const identity = parseEpc(given.hex!);
    if (isFault(identity)) expect.fail(JSON.stringify(identity));
    expect(identity).toMatchObject({
      scheme: expected.scheme,
      filter: expected.filter,
      companyPrefix: expected.company_prefix,
      tagUri: expected.tag_uri,
      pureUri: expected.pure_uri,
      ...(expected.item_reference !== undefined && { itemReference: expected.item_reference }),
      ...(expected.asset_type !== undefined && { assetType: expected.asset_type }),
      ...(expected.asset_reference !== undefined && { assetReference: expected.asset_reference }),
      ...(expected.serial !== undefined && { serial: expected.serial }),
    });
  });

  it.each(good)("$id writes", ({ given, expected }) => {
    expect(encodeEpc(expected.tag_uri)).toBe(given.hex);
  });

  it.each(bad.filter(({ given }) => given.hex !== undefined))("$id is rejected", ({ given, expected }) => {
    const fault = parseEpc(given.hex!);
    expect(isFault(fault) && placeOf(fault)).toEqual(placeAsked(expected));
    expect(isFault(parseEpc(given.repaired!))).toBe(false);
  });

  it.each(bad.filter(({ given }) => given.tag_uri !== undefined))("$id is rejected", ({ given, expected }) => {
    expect(told(encodeEpc(given.tag_uri!))).toEqual(placeAsked(expected));
    expect(encodeEpc(given.repaired!)).toMatch(/^[0-9a-f]{24}$/);
  });
});
