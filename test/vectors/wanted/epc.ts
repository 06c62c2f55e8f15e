/** EPC identity: every scheme with every partition and filter, and every way in which each of its fields can be wrong. */
import { type Scheme, schemes } from "../../../protocol/epc/schemes.ts";
import type { Group } from "./group.ts";
import { type AnyVector, vectorsOfKind } from "./vector-set.ts";

const range = (count: number) => Array.from({ length: count }, (_, i) => i);
const MALFORMED = "[epc-field-malformed] in a URI";
const LARGE = "[epc-field-too-large] in a URI";
const LARGE_BITS = "[epc-field-too-large] in bits";

const partitionText = (scheme: string, partition: number, what: string) => `${scheme}: partition ${partition}, ${what}`;
const filterText = (scheme: string, filter: unknown) => `${scheme}: filter ${filter}`;
const faultText = (path: string, what: string, partition: number | null = null) =>
  `${path} ${what}${partition === null ? "" : `, partition ${partition}`}`;

function wantedOf({ id, reference, digits, serialBits }: Scheme): string[] {
  const room = id.replace("-", "_");
  const fields = ["filter", "company_prefix", reference, ...(serialBits ? ["serial"] : [])];
  // A company prefix or a padded reference with too many digits is malformed: its number of digits is what is wrong.
  const limited = ["filter", ...(digits === null ? [reference] : ["serial"])];
  return [
    ...range(7).flatMap((partition) =>
      ["ordinary", "every field lowest", "every field highest"].map((what) => partitionText(id, partition, what)),
    ),
    ...range(8).map((filter) => filterText(id, filter)),
    faultText(`${room}.partition`, "[epc-partition-invalid]"),
    ...range(7).map((partition) => faultText(`${room}.company_prefix`, LARGE_BITS, partition)),
    ...(digits === null ? [] : range(7).map((partition) => faultText(`${room}.${reference}`, LARGE_BITS, partition))),
    ...fields.map((field) => faultText(`${room}.${field}`, MALFORMED)),
    ...limited.map((field) => faultText(`${room}.${field}`, LARGE)),
    faultText(`${room}.uri`, MALFORMED),
  ];
}

const LENGTHS = [0, 1, 11, 13];
const lengthText = (length: number) => `${length} octets [epc-length-invalid]`;
const headerText = (header: string) => `header ${header} [epc-header-unknown]`;
const hex2 = (value: number) => value.toString(16).padStart(2, "0");
const headers = schemes.map(({ header }) => header);
const beside = [...new Set([0, 255, ...headers.flatMap((header) => [header - 1, header + 1])])].filter(
  (header) => !headers.includes(header as never),
);

function goodTexts({ expected, hex }: AnyVector): string[] {
  const { scheme, partition, filter } = expected as unknown as { scheme: string; partition: number; filter: number };
  const bits = BigInt(`0x${hex}`) & ((1n << 82n) - 1n);
  const digits = (expected.tag_uri as string).split(":").at(-1)!.split(".").slice(1);
  const serial = scheme === "giai-96" ? undefined : digits.at(-1);
  const nines = digits[0] === "9".repeat(digits[0]!.length) && (serial === undefined || serial === `${2 ** 38 - 1}`);
  const what = bits === 0n ? "every field lowest" : nines ? "every field highest" : "ordinary";
  return [partitionText(scheme, partition, what), filterText(scheme, filter)];
}

function badTexts({ expected, hex }: AnyVector): string[] {
  const { reason, path = "" } = expected;
  if (hex === undefined) {
    const scheme = { "epc-header-unknown": "scheme of a URI unknown" }[reason!];
    return [scheme ?? faultText(path, `[${reason}] in a URI`)];
  }
  const text = hex as string;
  switch (reason) {
    case "epc-length-invalid":
      return [lengthText(text.length / 2)];
    case "epc-header-unknown":
      return [headerText(text.slice(0, 2))];
    case "epc-field-too-large":
      return [faultText(path, LARGE_BITS, (Number.parseInt(text.slice(2, 4), 16) >> 2) & 7)];
    default:
      return [path === "epc" ? `[${reason}]` : faultText(path, `[${reason}]`)];
  }
}

export const epcGroup: Group = {
  name: "EPC: schemes, partitions, filters, every field wrong",
  wanted: [
    ...schemes.flatMap(wantedOf),
    ...LENGTHS.map(lengthText),
    ...beside.map((header) => headerText(hex2(header))),
    "[hex-odd-length]",
    "[hex-bad-digit]",
    "scheme of a URI unknown",
    faultText("epc.uri", MALFORMED),
  ],
  shown(files) {
    const single = vectorsOfKind(files, "epc-identity").filter(({ expected }) => !expected.also);
    return new Set(single.flatMap((one) => (one.expected.verdict === "good" ? goodTexts(one) : badTexts(one))));
  },
};
