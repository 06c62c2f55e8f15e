/** From vectors to questions of the contract, by the kind of their file. */
import { layout } from "../../protocol/index.ts";
import { escaped, type Pairs } from "./answer.ts";
import { readingCase } from "./reading-case.ts";
import { encoderPairs, type Raws, rawKeys, record } from "./record-case.ts";
import { badAnswer, type Expected, goodAnswer, hint, may, must, openAnswer, type ReplayCase } from "./replay-case.ts";
import type { Vector, VectorFile } from "./vector-set.ts";

/** What a kind's maker says of one vector: everything but id, group and why; `suffix` behind the id of a second question. */
type Question = Omit<ReplayCase, "id" | "group" | "why"> & { readonly suffix?: string };

const makers: { readonly [kind: string]: (vector: Vector) => readonly Question[] } = {
  record: recordQuestions,
  quantity: quantityQuestions,
  slots: slotsQuestions,
  "calibrated-reading": (vector) => [readingCase(vector)],
  "epc-identity": epcQuestions,
  "stored-crc": storedCrcQuestions,
  slice: sliceQuestions,
  fingerprint: headerQuestions,
  "link-frames": unframeQuestions,
  "link-messages": messageQuestions,
  "link-refusal": refusalQuestions,
  "record-writing": writingQuestions,
};

/** Questions of one file; none for a kind or a vector that the contract has no verb for. */
export function casesOfFile({ name, kind, vectors }: VectorFile): ReplayCase[] {
  const make = makers[kind];
  if (!make) return [];
  return vectors.flatMap((vector) =>
    make(vector).map(({ suffix, ...question }) => ({
      id: suffix === undefined ? vector.id : `${vector.id}:${suffix}`,
      group: name,
      why: vector.why,
      ...question,
    })),
  );
}

type Place = { readonly byte: number | null; readonly bit: number | null; readonly path: string };

/** The bad answer a vector asks for. */
function badOf({ expected }: Vector, more: Parameters<typeof badAnswer>[2] = []): Expected {
  return badAnswer(expected.reason as string, expected as unknown as Place, more);
}

function recordQuestions(vector: Vector): Question[] {
  const { record: id, hex, expected } = vector as Vector & { readonly record: string; readonly hex: string };
  const decode = {
    verb: "decode",
    needs: `decode.${id}`,
    about: id,
    given: [
      ["record", id],
      ["bytes", hex],
    ] as Pairs,
  };
  if (expected.verdict === "bad") return [{ ...decode, expected: badOf(vector) }];
  const raws = expected.raws as Raws;
  const given: Pairs = [["record", id], ...encoderPairs(record(id), raws)];
  const encode = {
    verb: "encode",
    needs: `encode.${id}`,
    about: id,
    given,
    expected: goodAnswer([must("bytes", hex)]),
  };
  return [
    { ...decode, expected: goodAnswer(rawKeys(record(id), raws)) },
    { ...encode, suffix: "encode" },
  ];
}

function quantityQuestions(vector: Vector): Question[] {
  const { record: id, field, value, expected } = vector as Vector & { readonly [member: string]: string };
  const given: Pairs = [
    ["record", id!],
    ["field", field!],
    ["value", value!],
  ];
  const right = expected.verdict === "bad" ? badOf(vector) : goodAnswer([must("raw", expected.raw as number)]);
  return [{ verb: "quantity", needs: "quantity", about: `${id}.${field}`, given, expected: right }];
}

function slotsQuestions(vector: Vector): Question[] {
  const { expected } = vector;
  const faults = (expected.faults ?? {}) as { readonly [slot: string]: string };
  const noticed = [
    hint("notes", ((expected.notes ?? []) as string[]).join(",")),
    ...Object.entries(faults).map(([slot, reason]) => hint(slot, reason)),
  ];
  const { slot, sequence } = expected as unknown as { readonly slot: string; readonly sequence: number };
  const right =
    expected.verdict === "bad"
      ? badOf(vector, noticed)
      : goodAnswer([must("slot", slot), must("sequence", sequence), ...noticed]);
  const broken = expected.reason === "slots-both-bad" ? Object.values(faults)[0] : undefined;
  return [
    {
      verb: "slots",
      needs: "slots",
      about: broken ?? "slots",
      given: [["bytes", vector.hex as string]],
      expected: right,
    },
  ];
}

function epcQuestions(vector: Vector): Question[] {
  const { hex, tag_uri: uri, expected } = vector as Vector & { readonly hex?: string; readonly tag_uri?: string };
  const about = "epc";
  const write = (text: string, right: Expected) =>
    ({
      verb: "epc_write",
      needs: "epc_write",
      about,
      given: [["uri", escaped(text)]],
      expected: right,
    }) satisfies Question;
  if (hex === undefined) return [write(uri!, badOf(vector))];
  const read = { verb: "epc", needs: "epc", about, given: [["hex", escaped(hex)]] as Pairs };
  if (expected.verdict === "bad") return [{ ...read, expected: badOf(vector) }];
  const { verdict: _, partition, ...members } = expected as Vector["expected"] & { readonly partition: number };
  const keys = Object.entries(members).map(([key, text]) => must(key, text as string));
  return [
    { ...read, expected: goodAnswer([...keys, may("partition", partition)]) },
    { ...write(expected.tag_uri as string, goodAnswer([must("hex", hex)])), suffix: "write" },
  ];
}

function storedCrcQuestions(vector: Vector): Question[] {
  const { pc, epc, hex, expected } = vector as Vector & { readonly [given: string]: string };
  if (hex === undefined) {
    const right = goodAnswer([must("stored_crc", expected.stored_crc as string)]);
    const given: Pairs = [
      ["pc", pc!],
      ["epc", epc!],
    ];
    return [{ verb: "stored_crc", needs: "stored_crc", about: "epc.stored_crc", given, expected: right }];
  }
  const given: Pairs = [
    ["record", "epc"],
    ["bytes", hex],
  ];
  // The checksum may be left out of a decoded record: it was right, or the record would be bad.
  const crc = may("stored_crc", Number.parseInt(expected.stored_crc as string, 16));
  const right = expected.verdict === "bad" ? badOf(vector) : openAnswer([crc]);
  return [{ verb: "decode", needs: "decode.epc", about: "epc", given, expected: right }];
}

function sliceQuestions(vector: Vector): Question[] {
  const { bytes, at, container, order, bits, signed, expected } = vector as Vector & {
    readonly bits: readonly [msb: number, lsb: number];
  };
  const given: Pairs = [
    ["bytes", `${bytes}`],
    ["at", `${at}`],
    ["container", `${container}`],
    ["order", `${order}`],
    ["msb", `${bits[0]}`],
    ["lsb", `${bits[1]}`],
    ["signed", signed ? "yes" : "no"],
  ];
  const right = goodAnswer([must("raw", expected.raw as number)]);
  return [{ verb: "slice", needs: "slice", about: "slice", given, expected: right }];
}

/** The canonical texts of the file are no question to a reader: only headers are. */
function headerQuestions(vector: Vector): Question[] {
  if (typeof vector.hex !== "string") return [];
  const fingerprint = (vector.reader as { readonly fingerprint: string }).fingerprint;
  const right =
    vector.expected.verdict === "bad"
      ? badOf(vector)
      : openAnswer([may("fingerprint", Number.parseInt(fingerprint, 16))]);
  return [{ verb: "header", needs: "header", about: "header", given: [["bytes", vector.hex]], expected: right }];
}

function unframeQuestions(vector: Vector): Question[] {
  const { wire, chunks, expected } = vector as Vector & { readonly wire: string; readonly chunks?: readonly number[] };
  const { bodies, faults } = expected as unknown as {
    readonly bodies: readonly string[];
    readonly faults: readonly { readonly reason: string; readonly byte: number }[];
  };
  const keys = [
    must("bodies", bodies.join(",")),
    ...(faults.length > 1 ? [must("faults", faults.map(({ reason }) => reason).join(","))] : []),
  ];
  const right = expected.verdict === "bad" ? badOf(vector, keys) : goodAnswer(keys);
  const given: Pairs = [["chunks", split(wire, chunks ?? [wire.length / 2]).join(",")]];
  return [{ verb: "unframe", needs: "unframe", about: "link", given, expected: right }];
}

/** Hex in pieces of so many bytes. */
function split(hex: string, lengths: readonly number[]): string[] {
  let at = 0;
  return lengths.map((length) => hex.slice(at, (at += 2 * length)));
}

function messageQuestions(vector: Vector): Question[] {
  const { direction, body, expected } = vector as Vector & { readonly direction: string; readonly body: string };
  const type = Number.parseInt(body.slice(0, 2), 16);
  const known = layout.messages.find((message) => message.code === type && message.direction === direction);
  const needs = known ? `message.${known.id}` : "message";
  const question = { verb: "message", needs, about: known?.record ?? "envelope" };
  const given: Pairs = [
    ["direction", direction],
    ["body", body],
  ];
  if (expected.verdict === "bad") return [{ ...question, given, expected: badOf(vector) }];
  const { message, request, raws, tails } = expected as unknown as {
    readonly message: string;
    readonly request: number;
    readonly raws: Raws;
    readonly tails: Raws;
  };
  const keys = [
    must("message", message),
    must("request", request),
    ...rawKeys(record(known!.record), raws),
    ...Object.entries(tails).map(([id, elements]) => must(id, (elements as readonly number[]).join(","))),
  ];
  return [{ ...question, given, expected: goodAnswer(keys) }];
}

/** An error message, of which the file says the reason, the type it is about and the byte. */
function refusalQuestions(vector: Vector): Question[] {
  const { number, type, byte } = vector.expected as unknown as { readonly [member: string]: number };
  const keys = [must("message", "error"), must("reason", number!), must("about", type!), must("byte", byte!)];
  const given: Pairs = [
    ["direction", "to-host"],
    ["body", vector.body as string],
  ];
  return [{ verb: "message", needs: "message.error", about: "error", given, expected: openAnswer(keys) }];
}

function writingQuestions(vector: Vector): Question[] {
  const {
    record: id,
    raws,
    tails,
    expected,
  } = vector as Vector & {
    readonly record: string;
    readonly raws: Raws;
    readonly tails?: Raws;
  };
  const values = Object.entries({ ...raws, ...tails }).map(([key, raw]) => [key, `${raw}`] as const);
  const right = expected.verdict === "bad" ? badOf(vector) : goodAnswer([must("bytes", expected.hex as string)]);
  return [{ verb: "write", needs: `write.${id}`, about: id, given: [["record", id], ...values], expected: right }];
}
