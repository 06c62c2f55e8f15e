/** The order of the checks: for each two faults that one vector can have, a vector with both that names the first. */
import type { Group } from "./group.ts";

/** Faults that follow one after the other, by kind of vector: each before every one in the lines behind it. */
const PAIRS: { readonly [kind: string]: readonly (readonly [first: string, ...later: string[]])[] } = {
  record: [
    [
      "record-too-short",
      "record-empty",
      "kind-unexpected",
      "layout-unknown",
      "marker-mismatch",
      "reserved-bit-set",
      "name-unknown",
      "value-out-of-range",
    ],
    ["record-empty", "trailing-bytes", "checksum-mismatch", "kind-unexpected", "layout-unknown"],
    [
      "trailing-bytes",
      "checksum-mismatch",
      "kind-unexpected",
      "layout-unknown",
      "marker-mismatch",
      "reserved-bit-set",
      "name-unknown",
      "value-out-of-range",
    ],
    [
      "checksum-mismatch",
      "kind-unexpected",
      "layout-unknown",
      "marker-mismatch",
      "reserved-bit-set",
      "name-unknown",
      "value-out-of-range",
    ],
    ["kind-unexpected", "layout-unknown", "marker-mismatch", "reserved-bit-set", "name-unknown", "value-out-of-range"],
    ["layout-unknown", "marker-mismatch", "reserved-bit-set", "name-unknown", "value-out-of-range"],
    ["marker-mismatch", "marker-mismatch", "reserved-bit-set", "value-out-of-range"],
    ["reserved-bit-set", "value-out-of-range"],
    ["name-unknown", "value-out-of-range"],
    ["value-out-of-range", "marker-mismatch", "reserved-bit-set", "value-out-of-range"],
  ],
  "link-messages": [
    ["message-unknown", "record-too-short", "trailing-bytes", "value-out-of-range", "count-mismatch"],
    ["record-too-short", "reserved-bit-set", "name-unknown", "value-out-of-range"],
    ["trailing-bytes", "reserved-bit-set", "name-unknown", "value-out-of-range"],
    ["reserved-bit-set", "name-unknown", "value-out-of-range", "count-mismatch"],
    ["name-unknown", "value-out-of-range", "count-mismatch"],
    ["value-out-of-range", "name-unknown", "count-mismatch"],
  ],
  "epc-identity": [
    ["hex-bad-digit", "hex-odd-length", "epc-header-unknown"],
    ["hex-odd-length", "epc-header-unknown"],
    ["epc-header-unknown", "epc-length-invalid", "epc-partition-invalid"],
    ["epc-length-invalid", "epc-partition-invalid", "epc-field-too-large"],
    ["epc-field-too-large", "epc-field-too-large"],
  ],
  "calibrated-reading": [
    ["layout-unknown", "fingerprint-mismatch", "slots-both-bad", "slots-contradict", "value-out-of-range"],
    ["fingerprint-mismatch", "slots-both-bad", "slots-contradict", "value-out-of-range"],
  ],
  "llrp-messages": [
    ["record-too-short", "reserved-bit-set", "llrp-length-invalid"],
    ["reserved-bit-set", "llrp-length-invalid", "llrp-version-unsupported"],
    ["llrp-length-invalid", "llrp-version-unsupported", "message-unknown"],
    ["llrp-version-unsupported", "message-unknown", "trailing-bytes"],
    ["message-unknown", "record-too-short", "trailing-bytes"],
    ["trailing-bytes", "field-missing"],
    ["llrp-parameter-unexpected", "field-missing"],
    ["llrp-length-invalid", "field-missing"],
  ],
};

const textOf = (kind: string, first: string, second: string) => `${kind}: ${first} before ${second}`;

export const orderGroup: Group = {
  name: "order of the checks: the first fault is named",
  wanted: Object.entries(PAIRS).flatMap(([kind, lines]) =>
    lines.flatMap(([first, ...later]) => later.map((second) => textOf(kind, first, second))),
  ),
  shown(files) {
    const shown = new Set<string>();
    for (const { kind, vectors } of files) {
      for (const { expected } of vectors) {
        for (const { reason } of expected.also ?? []) shown.add(textOf(kind, expected.reason!, reason));
      }
    }
    return shown;
  },
};
