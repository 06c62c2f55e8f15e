/**
 * The emitted dissector inside Wireshark (Debian package tshark) against every vector that holds a record, two slots, a message
 * of the link or what was read of a tag. What is expected stands in the vectors, which were worked without our code.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { type CompiledField, isFault, layout, recordOf } from "../../protocol/index.ts";
import { type Direction, decodeMessage, encodeMessage } from "../../protocol/link/message.ts";
import { Random } from "../../sim/random.ts";
import { dissected, type ShownField } from "../support/dissected.ts";
import { needs } from "../support/outside.ts";
import {
  type Listed,
  messages as messageVectors,
  type Packet,
  records as recordVectors,
  type Vector,
  type VectorCase,
  vectorsIn,
} from "../support/vector-cases.ts";
import { bytesOf, placeOf } from "../support/vectors.ts";

/** tshark hands no packet of no bytes to anybody. */
const hasBytes = ({ packet }: VectorCase) => packet.bytes.length > 0;

const [records, messages] = [recordVectors.filter(hasBytes), messageVectors.filter(hasBytes)];

const slots = vectorsIn("slots.json")
  .map(({ id, hex, expected }): VectorCase => ({ id, expected, packet: { as: "slots", bytes: bytesOf(hex!) } }))
  .filter(hasBytes);

const refusals = vectorsIn("refusals.json").map(
  ({ id, body, expected }): VectorCase => ({ id, expected, packet: { as: "link", bytes: bytesOf(body!) } }),
);

const headers = vectorsIn("fingerprint.json").flatMap(({ id, hex, expected }): VectorCase[] =>
  hex === undefined ? [] : [{ id, expected, packet: { as: "header", bytes: bytesOf(hex) } }],
);

/** Those that are bad for their arithmetic alone are not Wireshark's matter. */
const inBytes = ({ expected }: Vector) => expected.path !== "reading.gauge";

/** Whether the first copy is of the sensor that the header names. */
const ownSensor = ({ user_words_0_31: header, user_words_40_71: copy }: Vector) =>
  header!.slice(20, 28) === copy!.slice(8, 16);

const readings = vectorsIn("readings.json")
  .filter(inBytes)
  .map((vector) => ({
    id: vector.id,
    expected: vector.expected,
    ownSensor: ownSensor(vector),
    packets: [report(vector.user_words_0_31!, 0), report(vector.user_words_40_71!, 40)],
  }));

const answer = [
  { as: "link", direction: "to-kit", bytes: made("read", "to-kit", 77, { bank: 3, pointer: 8, word_count: 16 }) },
  { as: "link", direction: "to-kit", bytes: made("read", "to-kit", 78, { bank: 3, pointer: 40, word_count: 16 }) },
  { as: "link", bytes: answered(78, vectorsIn("calibration.json")[0]!.hex!) },
  { as: "link", bytes: answered(77, vectorsIn("slots.json")[0]!.hex!) },
] as const;

function made(
  id: string,
  direction: Direction,
  request: number,
  values: { [id: string]: number },
  words: number[] = [],
) {
  const all = { password: 0, result: 0, kit_time: 0, epc_words: 0, pc: 0, xpc: 0, rssi: 0, frequency: 0, ...values };
  const body = encodeMessage(layout, id, direction, request, all, { epc: [], words });
  if (isFault(body)) throw new Error(body.path);
  return body;
}

function wordsOf(hex: string): number[] {
  return hex.match(/.{4}/g)!.map((digits) => Number.parseInt(digits, 16));
}

function answered(request: number, hex: string): Uint8Array {
  const words = wordsOf(hex);
  return made("access_answer", "to-host", request, { word_count: words.length }, words);
}

function report(hex: string, pointer: number): Packet {
  const words = wordsOf(hex);
  const values = { bank: 3, pointer, word_count: words.length };
  return { as: "link", bytes: made("tag_report", "to-host", 0, values, words) };
}

const unsaid = ["0101020104", "40000b"].map(
  (hex): Packet => ({ as: "link", direction: "unsaid", bytes: bytesOf(hex) }),
);

/** Good messages with bytes changed, cut or added, and what our decoder says of them. */
function damagedMessages(count: number) {
  const random = new Random(29, "dissector");
  const good = messages.filter(({ expected }) => expected.verdict === "good");
  return Array.from({ length: count }, () => {
    const { bytes, direction } = good[random.integer() % good.length]!.packet;
    const length = random.integer() % 4 === 0 ? 1 + (random.integer() % (bytes.length + 3)) : bytes.length;
    const damaged = new Uint8Array(length);
    damaged.set(bytes.subarray(0, length));
    for (let i = random.integer() % 4; i >= 0; i--) damaged[random.integer() % length] = random.integer() & 0xff;
    const way = direction as Direction;
    const decoded = decodeMessage(layout, damaged, way);
    const packet: Packet = { as: "link", direction: way, bytes: damaged };
    return { packet, wanted: isFault(decoded) ? placeOf(decoded) : "good" };
  });
}

const damaged = damagedMessages(1000);

/** What is shown under a name, in order. */
function all(fields: readonly ShownField[], name: string): string[] {
  return fields.filter((field) => field.name === `plyframe.${name}`).map(({ shown }) => shown);
}

function verdictOf(fields: readonly ShownField[]) {
  const one = (name: string) => all(fields, name)[0];
  const bit = one("verdict.bit");
  const found = { reason: one("verdict"), path: one("verdict.path"), byte: Number(one("verdict.byte")) };
  return { ...found, bit: bit === undefined ? null : Number(bit) };
}

/** Raw integers of a record's fields, those of an array as a list. */
function rawsOf(fields: readonly ShownField[], record: string): Listed {
  const raws: { [id: string]: number | number[] } = {};
  for (const field of recordOf(layout, record).fields) {
    const name = `${record}.${field.array ?? field.id}`;
    const raw = all(fields, `${name}.raw`);
    const list = (raw.length > 0 ? raw : all(fields, name)).map(Number);
    if (field.array !== undefined) raws[field.array] = list;
    else if (list.length > 0) raws[field.id] = list[0]!;
  }
  return raws;
}

/** What the vector says a record's fields mean, beside what is shown of them. */
function expectValues(fields: readonly ShownField[], record: string, values: { readonly [id: string]: unknown }) {
  const known = new Map(recordOf(layout, record).fields.map((field) => [field.array ?? field.id, field]));
  for (const [id, value] of Object.entries(values)) {
    const field = known.get(id)!;
    const name = `${record}.${id}`;
    const items = fields.filter((item) => item.name === `plyframe.${name}`);
    if (field.type === "flags") {
      const set = field.flags!.filter((flag) => all(fields, `${name}.${flag.id}`)[0] === "1").map((flag) => flag.id);
      expect([name, set.sort()]).toEqual([name, [...(value as string[])].sort()]);
    } else if (field.type === "enumeration") expect(items[0]!.label).toContain(`: ${value} (`);
    else {
      const numbers = [value].flat().filter((one) => one !== null) as number[];
      expect([name, items.map(({ shown }) => Number(shown))]).toEqual([name, numbers.map(fifteenDigits)]);
      if (field.unit !== "1") for (const { label } of items) expect(`${label} `).toContain(` ${field.unit} `);
    }
  }
}

/** tshark prints doubles with fifteen digits. */
function fifteenDigits(value: number): number {
  return Number(value.toPrecision(15));
}

function place(field: CompiledField, base: number) {
  return [base + field.byte, field.bytes];
}

needs("tshark", () => {
  describe("the emitted dissector", () => {
    const shown = new Map<string, ShownField[]>();
    let ofAnswer: ShownField[][];
    let ofUnsaid: ShownField[][];
    let ofDamaged: ShownField[][];

    beforeAll(() => {
      const cases = [...records, ...messages, ...slots, ...refusals, ...headers];
      const ofReadings = readings.flatMap(({ id, packets }) =>
        packets.map((packet, i) => ({ id: `${id} ${i}`, packet })),
      );
      const together = [...cases, ...ofReadings];
      const more = [...answer, ...unsaid, ...damaged.map(({ packet }) => packet)];
      const found = dissected([...together.map(({ packet }) => packet), ...more]);
      expect(found.length).toBe(together.length + more.length);
      for (const [i, { id }] of together.entries()) shown.set(id, found[i]!);
      const rest = found.slice(together.length);
      ofAnswer = rest.splice(0, answer.length);
      ofUnsaid = rest.splice(0, unsaid.length);
      ofDamaged = rest;
    }, 600_000);

    it("has no error of its own", () => {
      const errors = [...shown.values(), ...ofAnswer, ...ofUnsaid, ...ofDamaged]
        .flat()
        .filter(({ name }) => name === "_ws.lua.error");
      expect(errors).toEqual([]);
      expect(shown.size).toBeGreaterThan(1500);
    });

    it.each([...records, ...messages])("$id", ({ id, expected, record, packet }) => {
      const fields = shown.get(id)!;
      const { verdict, reason, path, byte, bit, raws, values, tails, message, request, arrived } = expected;
      if (verdict === "bad") {
        expect(verdictOf(fields)).toEqual({ reason, path, byte, bit });
        expect(fields.some(({ name }) => name === `plyframe.expert.${reason}`)).toBe(true);
      } else expect(verdictOf(fields).reason).toBe("good");
      if (raws) expect(rawsOf(fields, record!)).toEqual(raws);
      if (values) expectValues(fields, record!, values);
      if (message)
        expect([all(fields, "message"), all(fields, "envelope.request")]).toEqual([[message], [`${request}`]]);
      for (const [tail, words] of Object.entries(tails ?? {})) {
        const hex = all(fields, `${record}.${tail}`).join("").replaceAll(":", "");
        expect(hex).toBe(words.map((word) => word.toString(16).padStart(4, "0")).join(""));
      }
      if (arrived && packet.as !== "link") {
        const there = recordOf(layout, record!).fields.map((field) => field.id.replace(/\[.*/, ""));
        const seen = there.filter((one) => fields.some(({ name }) => name.startsWith(`plyframe.${record}.${one}`)));
        for (const one of arrived) expect(seen).toContain(one.replace(/\[.*/, ""));
      }
    });

    it.each(slots)("$id", ({ id, expected }) => {
      const fields = shown.get(id)!;
      const { verdict, reason, slot, sequence, notes, faults } = expected;
      expect(all(fields, "slots.verdict")).toEqual([verdict === "good" ? "good" : reason]);
      expect(all(fields, "slots.chosen")).toEqual(slot ? [slot] : []);
      expect(all(fields, "slots.sequence")).toEqual(slot ? [`${sequence}`] : []);
      expect(all(fields, "note")).toEqual(notes);
      const verdicts = all(fields, "verdict");
      expect(verdicts[0]).toBe(faults?.a ?? "good");
      if (verdicts.length > 1) expect(verdicts[1]).toBe(faults?.b ?? "good");
    });

    it.each(refusals)("$id", ({ id, expected }) => {
      const fields = shown.get(id)!;
      expect(all(fields, "note")).toEqual([expected.code ?? `reason ${expected.number}`]);
      expect(all(fields, "error.byte")).toEqual([`${expected.byte}`]);
    });

    it.each(headers)("$id", ({ id, expected }) => {
      expect(all(shown.get(id)!, "note")).toEqual(expected.verdict === "good" ? [] : [expected.reason]);
    });

    it.each(readings)("$id", ({ id, expected, ownSensor }) => {
      const [first, second] = [shown.get(`${id} 0`)!, shown.get(`${id} 1`)!];
      expect(all(first, "region")).toEqual(["header", "slot_a", "slot_b", "counters_a"]);
      expect(all(second, "region")).toEqual(["calibration_1", "calibration_2"]);
      if (expected.verdict === "bad") {
        const reasons = [...all(first, "verdict"), ...all(first, "note"), ...all(first, "slots.verdict")];
        expect(reasons).toContain(expected.reason);
        return;
      }
      expect(all(first, "slots.chosen")).toEqual([expected.slot]);
      const copy = expected.calibration_copy;
      if (copy && ownSensor) expect(all(second, "copies.whole")).toEqual([`${copy}`]);
    });

    it("reads the words of an answer by what was asked", () => {
      expect(ofAnswer.map((fields) => all(fields, "region"))).toEqual([
        [],
        [],
        ["calibration_1"],
        ["slot_a", "slot_b"],
      ]);
      expect(all(ofAnswer[3]!, "slots.chosen")).toEqual([vectorsIn("slots.json")[0]!.expected.slot]);
    });

    it("knows a message by its type where the packet does not say which way it went", () => {
      expect(ofUnsaid.map((fields) => all(fields, "message"))).toEqual([["hello"], ["done"]]);
    });

    it("says of a thousand damaged messages what our decoder says", () => {
      const found = ofDamaged.map((fields) => {
        const verdict = verdictOf(fields);
        return verdict.reason === "good" ? "good" : verdict;
      });
      expect(found).toEqual(damaged.map(({ wanted }) => wanted));
      expect(found.filter((verdict) => verdict !== "good").length).toBeGreaterThan(300);
    });

    it("shows every field on its own bytes", () => {
      const { id } = records.find(({ record, expected }) => record === "frame" && expected.verdict === "good")!;
      for (const field of recordOf(layout, "frame").fields) {
        const items = shown.get(id)!.filter(({ name }) => name === `plyframe.${field.path}`);
        expect(items.map(({ at, bytes }) => [at, bytes])).toEqual([place(field, 0)]);
      }
    });
  });
});
