/** LLRP: every message and parameter, every array type, every length and count that can lie, streams cut and ended in every place. */
import { MAX_MESSAGE } from "../../../protocol/llrp/header.ts";
import { messages } from "../../../protocol/llrp/messages.ts";
import { parameters } from "../../../protocol/llrp/parameters.ts";
import type { Group } from "./group.ts";
import { type AnyVector, vectorsOfKind } from "./vector-set.ts";

const goodText = (name: string) => `${name}: good`;
const arrayText = (type: string, what: string) => `an array of ${type}: ${what}`;
const ARRAYS = ["u1v", "u8v", "utf8v", "u16v", "u32v"];
const LENGTHS = [0, 1, 9, MAX_MESSAGE + 1, 2 ** 31, 2 ** 32 - 1];
const lengthText = (length: number) => `a header with length ${length} [llrp-length-invalid]`;
const PARTS = [0, 1, 2, 3, 65_535];
const partText = (length: number) => `a parameter with length ${length} [llrp-length-invalid]`;
const CUT = "a message cut in every place";
const BRANCHES = [
  "header.reserved [reserved-bit-set]",
  "header.version [llrp-version-unsupported]",
  "header.type [message-unknown]",
  "a parameter's header [reserved-bit-set]",
  "a field cut off by its parameter's end [llrp-length-invalid]",
  "a parameter one byte longer than what it stands in [llrp-length-invalid]",
  "a message with a byte too many [trailing-bytes]",
  "a TV parameter of unknown type [llrp-parameter-unknown]",
  "a parameter in a place where it may not be [llrp-parameter-unexpected]",
  "a second parameter where one may be [llrp-parameter-unexpected]",
  "seventeen parameters one in the other [llrp-parameter-unexpected]",
  "sixteen parameters one in the other: good",
  "a parameter that must be there is not [field-missing]",
  "a TLV parameter of unknown type: skipped",
];
const STREAM = {
  cut: "a stream of two messages, cut in every place",
  ended: "a stream that ends in every place of a message",
  bytewise: "a stream byte by byte",
  refused: "a message that is not understood, between two that are",
  lost: "a header that cannot be one, and messages behind it",
};

/** Array fields by the end of their path, with their type. */
const arrays: ReadonlyMap<string, string> = new Map(
  parameters.flatMap(({ name, fields }) => fields.map((field) => [`${name}.${field.name}`, field.type] as const)),
);

const bytesIn = (hex: unknown) =>
  Uint8Array.from((hex as string).match(/../g) ?? [], (pair) => Number.parseInt(pair, 16));
const word = (bytes: Uint8Array, at: number) => bytes[at]! * 256 + bytes[at + 1]!;

interface Element {
  readonly name: string;
  readonly values: { readonly [name: string]: unknown };
  readonly parameters: readonly Element[];
}

function everyElement(element: Element): Element[] {
  return [element, ...element.parameters.flatMap(everyElement)];
}

function depthOf(element: Element): number {
  return Math.max(0, ...element.parameters.map((inner) => 1 + depthOf(inner)));
}

function lengthOf(value: unknown): number {
  if (Array.isArray(value)) return value.length;
  if (typeof value === "string") return value.length;
  return (value as { bits: number }).bits;
}

function goodTexts({ expected }: AnyVector): string[] {
  const message = expected.message as Element & { skipped: readonly object[] };
  const texts: string[] = [];
  if (message.skipped.length > 0) texts.push("a TLV parameter of unknown type: skipped");
  if (depthOf(message) === 16) texts.push("sixteen parameters one in the other: good");
  for (const { name, values } of everyElement(message)) {
    texts.push(goodText(name));
    for (const [field, value] of Object.entries(values)) {
      const type = arrays.get(`${name}.${field}`);
      if (type && ARRAYS.includes(type)) texts.push(arrayText(type, lengthOf(value) === 0 ? "empty" : "some"));
    }
  }
  return texts;
}

function badTexts({ wire, flags, expected: { reason, path = "", byte } }: AnyVector): string[] {
  const bytes = bytesIn(wire);
  if (path.startsWith("header.") && reason !== "llrp-length-invalid") return [`${path} [${reason}]`];
  switch (reason) {
    case "llrp-length-invalid": {
      if (path === "header.length") return [lengthText(new DataView(bytes.buffer).getUint32(2))];
      const length = word(bytes, byte!);
      const left = bytes.length - (byte! - 2);
      const texts = [partText(length)];
      if (length === left + 1) texts.push("a parameter one byte longer than what it stands in [llrp-length-invalid]");
      if (path.split(".").at(-1)! in { EPC: 0, ErrorDescription: 0 }) {
        texts.push("a field cut off by its parameter's end [llrp-length-invalid]");
      }
      return texts;
    }
    case "count-mismatch": {
      const type = arrays.get(path.split(".").slice(-2).join("."))!;
      return [
        arrayText(
          type,
          word(bytes, byte!) === 65_535 ? "65535 asked for [count-mismatch]" : "one too many [count-mismatch]",
        ),
      ];
    }
    case "reserved-bit-set":
      return ["a parameter's header [reserved-bit-set]"];
    case "trailing-bytes":
      return ["a message with a byte too many [trailing-bytes]"];
    case "llrp-parameter-unknown":
      return ["a TV parameter of unknown type [llrp-parameter-unknown]"];
    case "field-missing":
      return ["a parameter that must be there is not [field-missing]"];
    case "llrp-parameter-unexpected": {
      const what = flags.includes("Depth")
        ? "seventeen parameters one in the other"
        : path === "RO_ACCESS_REPORT"
          ? "a parameter in a place where it may not be"
          : "a second parameter where one may be";
      return [`${what} [llrp-parameter-unexpected]`];
    }
    default:
      return [];
  }
}

/** Whether every place of one text from 1 on is among the vectors; `of` tells which vectors belong together. */
function isEverywhere(places: readonly { readonly of: string; readonly at: number; readonly last: number }[]): boolean {
  const seen = new Map<string, Set<number>>();
  for (const { of, at } of places) seen.set(of, (seen.get(of) ?? new Set()).add(at));
  return places.some(({ of, last }) =>
    Array.from({ length: last }, (_, i) => i + 1).every((at) => seen.get(of)!.has(at)),
  );
}

interface Found {
  readonly messages: readonly { readonly byte: number }[];
  readonly faults: readonly { readonly byte: number }[];
}

function streamTexts(vectors: readonly AnyVector[]): string[] {
  const texts: string[] = [];
  for (const { chunks, expected } of vectors) {
    const { messages, faults } = expected as unknown as Found;
    if ((chunks as number[] | undefined)?.every((length) => length === 1) && messages.length > 1)
      texts.push(STREAM.bytewise);
    if (faults.length === 1 && messages.length === 2) texts.push(STREAM.refused);
    if (faults.length === 1 && messages.length === 1) texts.push(STREAM.lost);
  }
  const cuts = vectors.flatMap(({ wire, chunks }) => {
    const [at, rest] = (chunks as number[] | undefined)?.length === 2 ? (chunks as number[]) : [0, 0];
    return rest === 0 ? [] : [{ of: wire as string, at: at!, last: at! + rest! - 1 }];
  });
  const ends = vectors.flatMap(({ wire, expected: { reason } }) => {
    if (reason !== "record-too-short") return [];
    const bytes = bytesIn(wire);
    const start = new DataView(bytes.buffer).getUint32(2);
    const whole = bytes.length - start < 10 ? 18 : new DataView(bytes.buffer).getUint32(start + 2);
    return [{ of: `${start}`, at: bytes.length - start, last: whole - 1 }];
  });
  if (isEverywhere(cuts)) texts.push(STREAM.cut);
  if (isEverywhere(ends)) texts.push(STREAM.ended);
  return texts;
}

export const llrpGroup: Group = {
  name: "LLRP: messages, parameters, lies, streams",
  wanted: [
    ...[...messages, ...parameters].map(({ name }) => goodText(name)),
    ...ARRAYS.flatMap((type) =>
      ["empty", "some", "one too many [count-mismatch]", "65535 asked for [count-mismatch]"].map((what) =>
        arrayText(type, what),
      ),
    ),
    ...LENGTHS.map(lengthText),
    ...PARTS.map(partText),
    CUT,
    ...BRANCHES,
    ...Object.values(STREAM),
  ],
  shown(files) {
    const vectors = vectorsOfKind(files, "llrp-messages").filter(({ expected }) => !expected.also);
    const cuts = vectors
      .filter(({ expected }) => expected.reason === "record-too-short")
      .map(({ wire }) => ({ of: "", at: (wire as string).length / 2, last: 17 }));
    return new Set([
      ...vectors.flatMap((vector) => (vector.expected.verdict === "good" ? goodTexts(vector) : badTexts(vector))),
      ...(isEverywhere(cuts) ? [CUT] : []),
      ...streamTexts(vectorsOfKind(files, "llrp-stream")),
    ]);
  },
};
