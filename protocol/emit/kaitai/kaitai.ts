/**
 * Emits a description for Kaitai Struct: the USER bank, each record of memory and of the link, and the link's messages.
 * A parser made from it never stops at a damaged record: `verdict` says what is wrong, as the codec does.
 */
import { type ChecksumId, checksums } from "../../model/checksums.ts";
import { type EmittedFile, layoutMark, physicalRange, rawRange } from "../../model/emitted-file.ts";
import { type CompiledField, type CompiledRecord, type Layout, recordOf } from "../../model/layout.ts";
import { reasons } from "../../model/reasons.ts";
import type { BankSpec } from "../../model/vocabulary.ts";
import {
  type Container,
  computedName,
  containersOf,
  hasMeaning,
  named,
  rawName,
  rawOf,
  stepOf,
  verdictOf,
} from "./judgement.ts";
import { toYaml, type Yaml } from "./yaml.ts";

type Mapping = { [key: string]: Yaml };

export function emitKaitai(layout: Layout): EmittedFile[] {
  const user = layout.banks.find(({ id }) => id === "user")!;
  const types: Mapping = {};
  for (const record of layout.records) types[record.id] = recordType(record, user, layout);
  types.message = messageType(layout);
  types.checksum_step = stepType();
  const description: Mapping = {
    meta: {
      id: "plyframe",
      title: "Memory of a plyframe pressure tag, and messages of its reader kit's link",
      "ks-version": "0.10",
      endian: "be",
    },
    doc:
      "The root is the USER bank from word 0, or as much of it as was read. A record alone, or a message without its framing, " +
      "is parsed as its type. Every record has a verdict: 0, or the number of the reason times 256 plus the index of " +
      "the field (255: the record as a whole). A record that ends too soon is an end-of-stream error.",
    ...bankType(user, layout),
    types,
    enums: {
      reason: {
        0: "good",
        ...Object.fromEntries(Object.entries(reasons).map(([code, { number }]) => [number, snake(code)])),
      },
    },
  };
  const mark = `# Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit".\n`;
  return [{ path: "protocol/emitted/plyframe.ksy", text: mark + toYaml(description) }];
}

function snake(code: string): string {
  return code.replaceAll("-", "_");
}

/** The bank as far as it is there, and which slot holds the newest whole frame. */
function bankType(bank: BankSpec, layout: Layout): { seq: Yaml; instances: Yaml } {
  const seq = bank.regions
    .filter(({ record }) => record !== null)
    .map(({ id, record, word, words, why }) => ({
      id,
      size: words * 2,
      type: record!,
      if: `_io.size >= ${(word + words) * 2}`,
      doc: why,
    }));
  const frame = recordOf(layout, "frame");
  const sequence = frame.fields.find(({ id }) => id === "sequence")!;
  const at = (slot: string) => `${slot}.${rawOf(sequence, containersOf(frame))}`;
  const distance = `(${at("slot_a")} - ${at("slot_b")} + 65536) % 65536`;
  const ordered = `(sequence_distance == 0 ? (slot_a.whole == slot_b.whole ? 1 : 0) : sequence_distance < 32768 ? 1 : sequence_distance > 32768 ? 2 : 0)`;
  const slots = bank.regions.find(({ id }) => id === "slot_b")!;
  const both = `_io.size >= ${(slots.word + slots.words) * 2}`;
  const newest = `slot_a.verdict != 0 ? (slot_b.verdict != 0 ? 0 : 2) : slot_b.verdict != 0 ? 1 : ${ordered}`;
  return {
    seq,
    instances: {
      sequence_distance: { value: distance, if: both },
      newest_slot: {
        value: newest,
        if: both,
        doc: "1: slot A holds the newest whole frame, 2: slot B does, 0: neither is whole or they cannot be ordered (RFC 1982).",
      },
    },
  };
}

function recordType(record: CompiledRecord, user: BankSpec, layout: Layout): Mapping {
  const containers = containersOf(record);
  const seq: Mapping[] = containers.flatMap(containerAttributes);
  const instances: Mapping = {};
  for (const field of record.fields) Object.assign(instances, fieldInstances(field, containers));
  if (record.fields.some(({ role }) => role === "kind")) {
    const zeros = Array.from({ length: record.bytes }, () => 0).join(", ");
    instances.whole = { pos: 0, size: record.bytes };
    instances.is_empty = { value: `whole == [${zeros}]`, doc: "Never written." };
  }
  if (record.tails.length > 0) {
    const tails = record.tails.map(({ bytes, count }) => `${bytes} * ${countOf(record, count, containers)}`);
    instances.announced_size = { value: [record.bytes, ...tails].join(" + ") };
    for (const { id, bytes, count, why } of record.tails) {
      seq.push({
        id: named(id),
        type: `u${bytes}`,
        repeat: "expr",
        "repeat-expr": countOf(record, count, containers),
        if: "_io.size == announced_size",
        doc: why,
      });
    }
    Object.assign(instances, memoryInstances(record, user, layout, containers));
  }
  instances.verdict = { value: verdictOf(record, containers) };
  instances.verdict_reason = { value: "verdict / 256", enum: "reason" };
  const enums: Mapping = {};
  for (const { type, id, names } of record.fields) {
    if (type === "enumeration") enums[id] = Object.fromEntries(names!.map((name) => [name.raw, name.id]));
  }
  const doc = `${record.title}: ${record.why}`;
  return { doc, ...(seq.length > 0 && { seq }), instances, ...(Object.keys(enums).length > 0 && { enums }) };
}

function countOf(record: CompiledRecord, count: number, containers: readonly Container[]): string {
  return rawOf(record.fields[count]!, containers);
}

function containerAttributes({ name, bytes, little, fields }: Container): Mapping[] {
  const [first] = fields;
  const order = little && bytes > 1 ? "le" : "";
  const isWhole = first!.width === bytes * 8;
  const type = `${isWhole && first!.signed ? "s" : "u"}${bytes}${order}`;
  if (bytes === 8) {
    const halves = [`${name}_high`, `${name}_low`];
    return (little ? halves.reverse() : halves).map((id) => ({ id, type: `u4${order}` }));
  }
  if (first!.array !== undefined) {
    return [{ id: name, type, repeat: "expr", "repeat-expr": `${fields.length}`, doc: about(first!) }];
  }
  if (!isWhole) return [{ id: name, type, doc: fields.map(({ id }) => id).join(", ") }];
  return [{ id: name, type, doc: about(first!) }];
}

/** What can be read off a container: the raw value of a slice, what it means, single flags, a checksum worked anew. */
function fieldInstances(field: CompiledField, containers: readonly Container[]): Mapping {
  if (field.array !== undefined) return {};
  const instances: Mapping = {};
  const container = containers.find(({ fields }) => fields.includes(field))!;
  const raw = rawOf(field, containers);
  const isRead = container.name === rawName(field);
  if (!isRead) instances[rawName(field)] = { value: raw, doc: about(field) };
  if (hasMeaning(field)) instances[named(field.id)] = meaning(field);
  for (const { bit, id, why } of field.flags ?? []) {
    instances[`${field.id}_${id}`] = { value: `(${rawName(field)} / ${2 ** bit}) % 2 == 1`, doc: why };
  }
  if (field.type === "checksum") Object.assign(instances, checksumInstances(field, field.algorithm!));
  return instances;
}

/** The name, or the physical value, absent where a sentinel says so. */
function meaning(field: CompiledField): Mapping {
  if (field.type === "enumeration") return { value: rawName(field), enum: field.id };
  const { num, den, add, unit, sentinels, max } = field;
  const name = rawName(field);
  const saturated = sentinels!.find(({ means }) => means === "saturated");
  const raw = saturated ? `(${name} == ${saturated.raw} ? ${max} : ${name})` : name;
  const scaled = [num === 1 ? raw : `${raw} * ${num}`, add === 0 ? "" : ` + ${add}`].join("");
  const value = den === 1 ? scaled : `${add === 0 ? scaled : `(${scaled})`} / ${den}.0`;
  const absent = sentinels!.filter(({ means }) => means === "absent").map((sentinel) => `${name} != ${sentinel.raw}`);
  const notes = sentinels!.map(({ raw: at, id }) => `; raw ${at}: ${id}`).join("");
  const doc = `${unit === "1" ? "Number" : `In ${unit}`}${notes}.`;
  return { value, ...(absent.length > 0 && { if: absent.join(" and ") }), doc };
}

function checksumInstances(field: CompiledField, algorithm: ChecksumId): Mapping {
  const { init, xorout } = checksums[algorithm];
  const [first, last] = field.over!;
  const steps = `${field.id}_steps`;
  const register = `${steps}[${last - first}].after`;
  return {
    [steps]: {
      pos: first,
      type: `checksum_step(_index == 0 ? ${init} : ${steps}[_index - 1].after)`,
      repeat: "expr",
      "repeat-expr": `${last - first + 1}`,
    },
    [computedName(field)]: { value: xorout === 0 ? register : `${register} ^ ${xorout}` },
  };
}

function stepType(): Mapping {
  return {
    doc: "The register of a CRC with polynomial 1021h behind one more byte.",
    params: [{ id: "before", type: "u2" }],
    seq: [{ id: "byte", type: "u1" }],
    instances: {
      mixed: { value: "(before / 256) ^ byte" },
      folded: { value: "mixed ^ (mixed / 16)" },
      after: { value: stepOf("seal") },
    },
  };
}

function about(field: CompiledField): string {
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const physical = field.unit === "1" && field.den === 1 ? "" : `, ${physicalRange(field)}`;
      return `Raw ${rawRange(field)}${physical}. ${field.why}`;
    }
    case "constant":
      return `Always ${field.raw}. ${field.why}`;
    default:
      return field.why;
  }
}

/** The records in the words of a read, where bank, pointer and length say that they are whole. */
function memoryInstances(
  record: CompiledRecord,
  user: BankSpec,
  layout: Layout,
  containers: readonly Container[],
): Mapping {
  const field = (id: string) => record.fields.find((candidate) => candidate.id === id);
  const [bank, pointer] = [field("bank"), field("pointer")];
  const words = record.tails.findIndex(({ id }) => id === "words");
  if (!bank || !pointer || words < 0) return {};
  const raw = (of: CompiledField) => rawOf(of, containers);
  const ahead = record.tails
    .slice(0, words)
    .map(({ bytes, count }) => ` + ${bytes} * ${countOf(record, count, containers)}`);
  const count = countOf(record, record.tails[words]!.count, containers);
  const instances: Mapping = {
    first_word_at: { value: `${record.bytes}${ahead.join("")}` },
    is_user_bank: { value: `${raw(bank)} == ${user.number} and _io.size == announced_size` },
  };
  for (const region of user.regions) {
    if (region.record === null) continue;
    const { bytes } = recordOf(layout, region.record);
    const isThere = `${raw(pointer)} <= ${region.word} and ${raw(pointer)} + ${count} >= ${region.word + region.words}`;
    instances[`user_${region.id}`] = {
      pos: `first_word_at + 2 * (${region.word} - ${raw(pointer)})`,
      size: bytes,
      type: region.record,
      if: `is_user_bank and ${isThere}`,
    };
  }
  return instances;
}

/** A body: envelope and payload. Which messages there are depends on who sends them. */
function messageType(layout: Layout): Mapping {
  const known = (direction: string) =>
    layout.messages.filter((message) => message.direction === direction).map(({ code }) => `envelope.type_ == ${code}`);
  const cases = Object.fromEntries(layout.messages.map(({ code, record }) => [code, record]));
  if (Object.keys(cases).length !== layout.messages.length) throw new Error("two messages have one type");
  return {
    doc: "Body of a link frame, without checksum and byte stuffing. An unknown message has no payload.",
    params: [{ id: "to_kit", type: "bool", doc: "Sent by the host; else by the kit." }],
    seq: [
      { id: "envelope", type: "envelope", size: recordOf(layout, "envelope").bytes },
      { id: "payload", "size-eos": true, if: "is_known", type: { "switch-on": "envelope.type_", cases } },
    ],
    instances: {
      is_known: { value: `to_kit ? (${known("to-kit").join(" or ")}) : (${known("to-host").join(" or ")})` },
    },
  };
}
