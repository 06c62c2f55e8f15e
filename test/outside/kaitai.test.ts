/**
 * The emitted description, through the compiler of Kaitai Struct and what it makes in JavaScript (npm packages
 * kaitai-struct-compiler and kaitai-struct), against every vector of a record, a message, two slots and words read.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { type CompiledRecord, layout, recordOf } from "../../protocol/index.ts";
import { reasonByNumber } from "../../protocol/model/reasons.ts";
import { compiledFor, isTooShort, type KaitaiTypes, kaitaiTypes, memberName, type Parsed } from "../support/kaitai.ts";
import { type Listed, messages, records, type VectorCase, vectorsIn } from "../support/vector-cases.ts";
import { bytesOf } from "../support/vectors.ts";

let types: KaitaiTypes;
beforeAll(async () => {
  types = await kaitaiTypes();
}, 120_000);

const ENVELOPE_BYTES = 3;

/** Reason and path of a verdict; of a flag only the field is told. */
function told(record: CompiledRecord, verdict: number) {
  if (verdict === 0) return "good";
  const field = record.fields[verdict % 256];
  return `${reasonByNumber(Math.floor(verdict / 256))} ${field?.path ?? record.id}`;
}

function wanted({ verdict, reason, path }: VectorCase["expected"]) {
  return verdict === "good" ? "good" : `${reason} ${path!.replace(/\.bit_\d+$/, "")}`;
}

function member(parsed: Parsed, ids: readonly string[]): unknown {
  for (const id of ids) if (memberName(id) in parsed) return parsed[memberName(id)];
  throw new Error(`no ${ids.join(" or ")}`);
}

function rawsOf(record: CompiledRecord, parsed: Parsed): Listed {
  const raws: { [id: string]: number | readonly number[] } = {};
  for (const { id, array } of record.fields) {
    const name = array ?? id;
    raws[name] = member(parsed, array ? [name] : [`${name}_raw`, name]) as number;
  }
  return raws;
}

/** What the vector says a record means, in the words of the parser; Kaitai leaves the elements of arrays raw. */
function valuesOf(record: CompiledRecord, parsed: Parsed, asked: { readonly [id: string]: unknown }) {
  const values: { [id: string]: unknown } = {};
  for (const id of Object.keys(asked)) {
    const field = record.fields.find((candidate) => (candidate.array ?? candidate.id) === id)!;
    const value = () => member(parsed, [id]);
    if (field.array !== undefined) values[id] = asked[id];
    else if (field.type === "enumeration") values[id] = types.namesOf(record.id, id)[value() as number];
    else if (field.type === "flags") {
      const set = field.flags!.filter((flag) => member(parsed, [`${id}_${flag.id}`]));
      values[id] = [...set].sort((a, b) => a.bit - b.bit).map((flag) => flag.id);
    } else values[id] = value() ?? null;
  }
  return values;
}

function parsedOrShort(parse: () => Parsed): Parsed | "too short" {
  try {
    return parse();
  } catch (error) {
    if (isTooShort(error)) return "too short";
    throw error;
  }
}

describe("records, read by Kaitai Struct", () => {
  it.each(records)("$id", ({ packet, expected, record: id }) => {
    const record = recordOf(layout, id!);
    const parsed = parsedOrShort(() => types.parserOf(id!)(packet.bytes));
    if (parsed === "too short") return expect(expected.reason).toBe("record-too-short");
    expect(told(record, parsed.verdict)).toBe(wanted(expected));
    if (expected.raws) expect(rawsOf(record, parsed)).toEqual(expected.raws);
    if (expected.values) expect(valuesOf(record, parsed, expected.values)).toEqual(expected.values);
  });
});

describe("messages, read by Kaitai Struct", () => {
  it.each(messages)("$id", ({ packet, expected }) => {
    const parsed = parsedOrShort(() => types.parserOf("message")(packet.bytes, packet.direction === "to-kit"));
    if (parsed === "too short") return expect(expected.reason).toBe("record-too-short");
    const code = packet.bytes[0];
    const known = layout.messages.find((message) => message.code === code && message.direction === packet.direction);
    expect(parsed.isKnown).toBe(known !== undefined);
    if (!known) return expect(wanted(expected)).toBe("message-unknown envelope.type");
    const record = recordOf(layout, known.record);
    const payload = parsed.payload as Parsed;
    expect(told(record, payload.verdict)).toBe(wanted(expected));
    if (expected.message) expect(known.id).toBe(expected.message);
    if (expected.request) expect((parsed.envelope as Parsed).request).toBe(expected.request);
    if (expected.raws) expect(rawsOf(record, payload)).toEqual(expected.raws);
    if (expected.values) expect(valuesOf(record, payload, expected.values)).toEqual(expected.values);
    for (const [tail, elements] of Object.entries(expected.tails ?? {})) expect(payload[tail]).toEqual(elements);
  });

  it.each(vectorsIn("refusals.json"))("$id", ({ body, expected }) => {
    const { payload } = types.parserOf("message")(bytesOf(body!), false);
    expect([(payload as Parsed).verdict, (payload as Parsed).reason]).toEqual([0, expected.number]);
  });
});

describe("two slots, read by Kaitai Struct", () => {
  const HEADER = "00".repeat(16);
  const NUMBERS: Record<string, number> = { a: 1, b: 2 };
  const slots = vectorsIn("slots.json");

  it.each(slots.filter(({ hex }) => hex!.length === 64))("$id", ({ hex, expected }) => {
    const bank = types.parserOf("plyframe")(bytesOf(HEADER + hex));
    expect(bank.newestSlot).toBe(NUMBERS[expected.slot ?? "none"] ?? 0);
    const verdicts = [bank.slotA, bank.slotB].map((slot) => reasonByNumber((slot as Parsed).verdict >> 8));
    expect(verdicts).toEqual([expected.faults?.a, expected.faults?.b]);
  });

  it.each(slots.filter(({ hex }) => hex!.length < 64))(
    "$id: says nothing of a slot that is not whole there",
    ({ hex }) => {
      const bank = types.parserOf("plyframe")(bytesOf(HEADER + hex));
      expect([bank.slotB, bank.newestSlot]).toEqual([undefined, undefined]);
    },
  );
});

describe("words that were read, by Kaitai Struct", () => {
  const vectors = vectorsIn("readings.json");

  it.each(vectors)("$id", ({ user_words_0_31, expected }) => {
    const bank = types.parserOf("plyframe")(bytesOf(user_words_0_31!));
    if (expected.path?.startsWith("header")) {
      const header = bank.header as Parsed;
      const foreign =
        told(recordOf(layout, "header"), header.verdict) === "good" ? "fingerprint-mismatch" : "layout-unknown";
      expect(expected.reason).toBe(foreign);
      if (foreign === "fingerprint-mismatch") expect(header.fingerprint).not.toBe(layout.fingerprint);
    } else if (expected.path === "slots") expect(bank.newestSlot).toBe(0);
    else if (expected.verdict === "good") expect(bank.newestSlot).toBe({ a: 1, b: 2 }[expected.slot!]);
  });

  it("stand in the report of a tag behind its EPC, by bank and first word", () => {
    const [{ user_words_40_71: words } = { user_words_40_71: "" }] = vectors;
    const head = `800000${"00".repeat(18)}000300282001abcd`;
    const { payload } = types.parserOf("message")(bytesOf(head + words), false);
    const report = payload as Parsed;
    expect(report.verdict).toBe(0);
    const [one, two] = [report.userCalibration1 as Parsed, report.userCalibration2 as Parsed];
    const alone = types.parserOf("calibration")(bytesOf(words!.slice(0, 64)));
    expect([one.verdict, two.verdict, one.sensorSerial]).toEqual([0, 0, alone.sensorSerial]);
    expect([report.userSlotA, report.userBurst]).toEqual([undefined, undefined]);
    expect(ENVELOPE_BYTES + (report.firstWordAt as number)).toBe(head.length / 2);
  });
});

describe("the compiler of Kaitai Struct", () => {
  it.each(["python", "java", "cpp_stl", "csharp", "go", "rust"])(
    "takes the description for %s too",
    async (language) => {
      expect(Object.keys(await compiledFor(language)).length).toBeGreaterThan(0);
    },
  );
});
