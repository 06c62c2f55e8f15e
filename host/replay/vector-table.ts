/** A made case as a line for the tables of vectors/make, where its answer is worked once more by other code. */
import type { Expected, ReplayCase } from "./replay-case.ts";

/** Flag that a record's vector gets, by its reason; each stands in vectors/make/cases.py. */
const FLAGS: { readonly [reason: string]: string } = {
  "record-too-short": "Length",
  "trailing-bytes": "Length",
  "record-empty": "NeverWritten",
  "checksum-mismatch": "SealBroken",
  "kind-unexpected": "OtherKind",
  "layout-unknown": "OtherLayout",
  "marker-mismatch": "Marker",
  "reserved-bit-set": "ReservedBit",
  "name-unknown": "Name",
  "value-out-of-range": "Limit",
};

const WHY = '"Found by a made case."';

/** Python for the module of vectors/make that makes this kind. Answers of others than records are this package's own. */
export function vectorTable(asked: ReplayCase, id: string): string {
  const { verb, given } = asked;
  const texts = Object.fromEntries(given);
  switch (verb) {
    case "decode":
      return recordLine(asked, id);
    case "encode":
      return `suite.good("${id}", ${WHY}, ["Ordinary"], ${keywords(given.slice(1))})`;
    case "unframe":
      return streamLine(asked, id);
    case "slots":
    case "header":
      return documentLine(asked, id, { hex: texts.bytes });
    case "epc":
      return documentLine(asked, id, { hex: texts.hex });
    case "message":
      return documentLine(asked, id, { direction: texts.direction, body: texts.body });
    default:
      return documentLine(asked, id, {
        user_words_0_31: texts.memory,
        user_words_40_71: texts.calibration,
        ambient: ambientOf(texts),
      });
  }
}

function ambientOf({
  ambient_raw: raw,
  ambient_uncertainty_pa: uncertainty,
}: {
  readonly [key: string]: string;
}): object | null {
  const number = (text: string) => (text === "none" ? null : Number(text));
  return raw === "none" ? null : { pressure_raw: Number(raw), expanded_uncertainty_pa: number(uncertainty!) };
}

function streamLine({ given, expected }: ReplayCase, id: string): string {
  const chunks = given[0]![1].split(",");
  const bodies = expected.keys.find(({ key }) => key === "bodies")!.text;
  const found = bodies === "" ? [] : bodies.split(",").map((body) => `bytes.fromhex("${body}")`);
  const lengths = chunks.map((chunk) => chunk.length / 2);
  return `stream("${id}", ${WHY}, ["Splits"], bytes.fromhex("${chunks.join("")}"), [${found.join(", ")}], [${lengths.join(", ")}])`;
}

/** A call of `good` or `bad` of document.py. */
function documentLine({ expected }: ReplayCase, id: string, given: object): string {
  const head = `"${id}", ${WHY}, ["Ordinary"], ${python(given)}`;
  if (expected.verdict === "bad") return `bad(${head}, "${expected.reason}", ${placeOf(expected)})`;
  const members = expected.keys.filter(({ optional }) => !optional).map(({ key, text }) => [key, text]);
  return `good(${head}, ${python(Object.fromEntries(members))})  # by this package: work it once more`;
}

function python(value: object): string {
  return JSON.stringify(value).replace(/:null/g, ": None");
}

/** Byte, bit and path as arguments. */
function placeOf(expected: Expected): string {
  const [byte, bit, path] = ["byte", "bit", "path"].map((name) => expected.keys.find(({ key }) => key === name)!.text);
  const number = (text: string) => (text === "none" ? "None" : text);
  return `${number(byte!)}, ${number(bit!)}, "${path}"`;
}

function recordLine({ given, expected, needs }: ReplayCase, id: string): string {
  const bytes = given.find(([key]) => key === "bytes")![1];
  if (expected.verdict === "good") {
    const raws = expected.keys.filter(({ optional }) => !optional).map(({ key, text }) => [key, text] as const);
    return `suite.good("${id}", ${WHY}, ["Ordinary"], ${keywords(raws)})`;
  }
  const flag = FLAGS[expected.reason!] ?? needs;
  return `suite.bad("${id}", ${WHY}, ["${flag}"], bytes.fromhex("${bytes}"), "${expected.reason}", ${placeOf(expected)})`;
}

/** Raw integers as keyword arguments; elements of an array have a name that only a dictionary can hold. */
function keywords(raws: readonly (readonly [string, string])[]): string {
  const single = raws.filter(([, text]) => !text.includes(","));
  const lists = raws.filter(([, text]) => text.includes(","));
  const elements = lists.flatMap(([key, text]) => text.split(",").map((raw, i) => `"${key}[${i}]": ${raw}`));
  return [
    ...single.map(([key, text]) => `${key}=${text}`),
    ...(elements.length > 0 ? [`**{${elements.join(", ")}}`] : []),
  ].join(", ");
}
