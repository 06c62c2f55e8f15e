/**
 * The good LLRP vectors, whose bytes were packed by hand, before Wireshark's LLRP dissector (Debian package tshark): a
 * program of others, written from the same standard. It has every message and parameter in its own tables.
 */
import { expect, it } from "vitest";
import { type Dissection, dissect } from "../support/dissect.ts";
import { needs } from "../support/outside.ts";
import { bytesOf, vectorsOf } from "../support/vectors.ts";

interface Message {
  readonly message: { readonly name: string };
}

/** Where version 4.0 of the dissector is known to complain of what is right, or of what is meant to be unknown, and why. */
const COMPLAINTS: readonly (readonly [ids: RegExp, why: string])[] = [
  [/^llrp-unknown-tlv/, "the parameter is meant to be unknown"],
  [/^llrp-message-set-protocol-version$/, "it does not step over the one byte of the version"],
  [/^llrp-message-custom-message/, "it does not step over subtype and data"],
  [/^llrp-array-u8v-/, "it does not step over the count of Identification's bytes"],
];

const { good } = vectorsOf<{ readonly wire: string }, Message>("llrp.json");

function dissected(vectors: typeof good): Dissection {
  return dissect(vectors.map(({ given }) => ({ by: "reader", raw: bytesOf(given.wire) })));
}

needs("tshark", () => {
  const complained = (id: string) => COMPLAINTS.some(([ids]) => ids.test(id));

  it("are called by the same names, and complained of where that is known alone", () => {
    const { names, warnings } = dissected(good);
    const called = names.map((info) => info.replace(/^.*LLRP Message \(|\).*$/g, "").replaceAll(/[ _]/g, ""));
    expect(called.map((name) => name.toUpperCase())).toEqual(
      good.map(({ expected }) => expected.message.name.replaceAll("_", "")),
    );
    const unhappy = warnings.map((warning) => good[Number.parseInt(warning, 10) - 1]!.id);
    expect(unhappy).toEqual(good.map(({ id }) => id).filter(complained));
  });

  it("are complained of when a parameter has another number, so its silence means something", () => {
    const named = good.filter(({ id }) => id.startsWith("llrp-parameter-"));
    const spoilt = named.map((vector) => {
      // The first byte of the first parameter's number: 4xxh is none.
      const wire = `${vector.given.wire.slice(0, 20)}03${vector.given.wire.slice(22)}`;
      return { ...vector, given: { wire } };
    });
    expect(dissected(spoilt).warnings.length).toBe(named.length);
  });
});
