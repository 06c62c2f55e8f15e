/**
 * Emits a Wireshark dissector of the link's messages and of the tag memory read by them, in Lua: the specification as
 * tables, and behind them the engine that reads, judges and shows what they say.
 */
import { checksums } from "../../model/checksums.ts";
import { type EmittedFile, hexOf, layoutMark } from "../../model/emitted-file.ts";
import type { CompiledField, CompiledRecord, CompiledTail, Layout } from "../../model/layout.ts";
import { type Reason, reasons } from "../../model/reasons.ts";
import type { BankSpec, MessageSpec } from "../../model/vocabulary.ts";
import { reading } from "./reading.ts";
import { showing } from "./showing.ts";

export function emitDissector(layout: Layout): EmittedFile[] {
  const inMemory = new Set(layout.banks.flatMap(({ regions }) => regions.map(({ record }) => record)));
  const text = `-- Emitted from ${layoutMark(layout)}: change protocol/spec/ and run "npm run emit".
--
-- Wireshark dissector of plyframe's link messages and of the tag memory in them (checked with Wireshark 4.0).
--   tshark -X lua_script:plyframe.lua -V -r capture.pcapng
-- Every field has its raw integer, value and unit; plyframe.verdict says good or why not, for messages and for every
-- region that a Read brought. Link type USER0 is a link message.

local FINGERPRINT = ${hexOf(layout.fingerprint, 8)}

local REASONS = {
${Object.entries(reasons)
  .map(([code, { number, says }]) => `  [${quoted(code)}] = { number = ${number}, says = ${quoted(says)} },`)
  .join("\n")}
}

local CHECKSUMS = {
${usedChecksums(layout)
  .map((id) => [id, checksums[id]] as const)
  .map(([id, { poly, init, xorout }]) => {
    return `  ${id} = { poly = ${hexOf(poly, 4)}, init = ${hexOf(init, 4)}, xorout = ${hexOf(xorout, 4)} },`;
  })
  .join("\n")}
}

local RECORDS = {
${layout.records.map((record) => recordTable(record, inMemory.has(record.id))).join("\n")}
}

local BANKS = {
${layout.banks.map(bankTable).join("\n")}
}

local SLOTS = { "slot_a", "slot_b" }
local COPIES = { "calibration_1", "calibration_2" }

local MESSAGES = {
${layout.messages.map(messageTable).join("\n")}
}
${reading}${showing}`;
  return [{ path: "protocol/emitted/plyframe.lua", text }];
}

/** Checksums that records carry; the engine knows those of 16 bits that go most significant bit first. */
function usedChecksums(layout: Layout): (keyof typeof checksums)[] {
  const used = layout.records.flatMap(({ fields }) => fields.flatMap(({ algorithm }) => algorithm ?? []));
  for (const id of used) {
    if (checksums[id].width !== 16 || checksums[id].reflected)
      throw new Error(`${id}: not a checksum of the dissector`);
  }
  return [...new Set(used)].sort();
}

function quoted(text: string): string {
  return `"${text.replaceAll("\\", "\\\\").replaceAll('"', '\\"').replaceAll("\n", "\\n")}"`;
}

/** `sampling_period` as it is shown: `Sampling period`. */
function shown(id: string): string {
  const words = id.replaceAll("_", " ");
  return words[0]!.toUpperCase() + words.slice(1);
}

function recordTable({ id, title, bytes, fields, tails }: CompiledRecord, inMemory: boolean): string {
  const rank = ({ role }: CompiledField) => (role === "kind" ? 0 : role === "layout" ? 1 : 2);
  const order = fields.map((_, i) => i).sort((a, b) => rank(fields[a]!) - rank(fields[b]!));
  const head = [`id = ${quoted(id)}`, `title = ${quoted(title)}`, `bytes = ${bytes}`];
  if (fields.some(({ role }) => role === "kind")) head.push("sealed = true");
  if (inMemory) head.push("in_memory = true");
  return `  ${id} = { ${head.join(", ")},
    order = { ${order.map((i) => i + 1).join(", ")} },
    fields = {${lines(fields.map(fieldTable))}},
    tails = {${lines(tails.map((tail) => tailTable(tail, fields)))}} },`;
}

function lines(tables: readonly string[]): string {
  return tables.length === 0 ? "" : `\n${tables.map((table) => `      ${table},\n`).join("")}    `;
}

function fieldTable(field: CompiledField): string {
  const { id, array, byte, bytes, little, shift, width, signed, why } = field;
  const parts = [`id = ${quoted(id)}`, `name = ${quoted(shown(array ?? id))}`];
  if (array !== undefined) parts.push(`array = ${quoted(array)}`);
  parts.push(`byte = ${byte}, bytes = ${bytes}, shift = ${shift}, width = ${width}`);
  if (little) parts.push("little = true");
  if (signed) parts.push("signed = true");
  parts.push(...typeParts(field), `why = ${quoted(why)}`);
  return `{ ${parts.join(", ")} }`;
}

/** What the specification says of a field of its type. */
function typeParts(field: CompiledField): string[] {
  switch (field.type) {
    case "unsigned":
    case "signed":
      return numberParts(field);
    case "flags": {
      const flags = field.flags!.map(
        ({ bit, id, why }) => `{ bit = ${bit}, id = ${quoted(id)}, why = ${quoted(why)} }`,
      );
      return ['type = "flags"', `named = ${hexOf(field.named!, 1)}`, `flags = { ${flags.join(", ")} }`];
    }
    case "enumeration":
      return [
        'type = "enumeration"',
        `names = { ${field.names!.map(({ raw, id }) => `[${raw}] = ${quoted(id)}`).join(", ")} }`,
      ];
    case "constant": {
      const reason: Reason =
        field.role === "kind" ? "kind-unexpected" : field.role === "layout" ? "layout-unknown" : "marker-mismatch";
      return ['type = "constant"', `raw = ${field.raw}`, `reason = ${quoted(reason)}`];
    }
    case "checksum":
      return [
        'type = "checksum"',
        `algorithm = "${field.algorithm}"`,
        `from = ${field.over![0]}`,
        `to = ${field.over![1]}`,
      ];
    case "reserved":
      return ['type = "reserved"'];
  }
}

function numberParts({ num, den, add, unit, min, max, sentinels }: CompiledField): string[] {
  const parts = ['type = "number"', `num = ${num}, den = ${den}, add = ${add}, min = ${min}, max = ${max}`];
  if (num !== 1 || den !== 1 || add !== 0) parts.push("scaled = true");
  if (unit !== "1") parts.push(`unit = ${quoted(unit!)}`);
  if (sentinels!.length > 0) {
    const table = sentinels!.map(({ raw, id, means }) => `[${raw}] = { id = ${quoted(id)}, means = ${quoted(means)} }`);
    parts.push(`sentinels = { ${table.join(", ")} }`);
  }
  return parts;
}

function tailTable({ id, why, bytes, count }: CompiledTail, fields: readonly CompiledField[]): string {
  return `{ id = ${quoted(id)}, name = ${quoted(shown(id))}, bytes = ${bytes}, count = ${quoted(fields[count]!.id)}, why = ${quoted(why)} }`;
}

function bankTable({ id, number, title, regions }: BankSpec): string {
  const rows = regions.map((region) => {
    const record = region.record === null ? "" : `, record = ${quoted(region.record)}`;
    const name = `${shown(region.id)}, words ${region.word} to ${region.word + region.words - 1}`;
    return `      { id = ${quoted(region.id)}, title = ${quoted(name)}, word = ${region.word}, words = ${region.words}${record} },`;
  });
  return `  [${number}] = { id = ${quoted(id)}, title = ${quoted(title)}, regions = {\n${rows.join("\n")}\n  } },`;
}

function messageTable({ id, code, direction, record }: MessageSpec): string {
  return `  { id = ${quoted(id)}, code = ${hexOf(code, 2)}, to_kit = ${direction === "to-kit"}, record = ${quoted(record)} },`;
}
