/** From a path to its place in MEMORY-MAP.md and to one line about it. */
import { type CompiledField, layout } from "../../protocol/index.ts";
import { bare } from "./concern.ts";

/** File with the anchors, by its path in the package. */
export const MEMORY_MAP = "protocol/MEMORY-MAP.md";

/** Anchor in MEMORY-MAP.md of a path that vectors or `concernOf` name. */
export function anchorOf(path: string): string {
  const [head, field] = bare(path).split(".") as [string, string?];
  const record = layout.records.find(({ id }) => id === head);
  if (record) {
    const known = field !== undefined && (fieldOf(path) !== undefined || record.tails.some(({ id }) => id === field));
    if (known) return hyphens(`${head}-${field}`);
    return head === "epc" && field !== undefined ? "epc-epc" : hyphens(`record-${head}`);
  }
  if (path === "link.checksum") return "checksums";
  if (head === "link") return "the-link";
  if (head === "slots") return "record-frame";
  if (head === "reading") return "record-calibration";
  return /^(sgtin|grai|giai)_96$/.test(head) ? "epc-epc" : "the-four-banks";
}

/** What the specification says of a field in one line; null for what is no field. */
export function fieldLine(path: string): string | null {
  const field = fieldOf(path);
  if (!field) return null;
  const msb = field.shift + field.width - 1;
  const bits = msb === field.shift ? `bit ${msb}` : `bits ${msb} to ${field.shift}`;
  const container = field.bytes === 1 ? `byte ${field.byte}` : `bytes ${field.byte} to ${field.byte + field.bytes - 1}`;
  return `${container}, ${bits}, ${field.type}${meaning(field)}. ${field.why}`;
}

function meaning({ min, max, den, num, add, unit, raw, over, algorithm }: CompiledField): string {
  if (raw !== undefined) return ` ${raw}`;
  if (over) return ` ${algorithm} over bytes ${over[0]} to ${over[1]}`;
  if (min === undefined) return "";
  const scale = `raw${num === 1 ? "" : ` * ${num}`}${add === 0 ? "" : ` + ${add}`}${den === 1 ? "" : ` / ${den}`}`;
  return ` ${min} to ${max}, ${scale}${unit === "1" ? "" : ` ${unit}`}`;
}

function fieldOf(path: string): CompiledField | undefined {
  const [head, id] = bare(path).split(".");
  const fields = layout.records.find((record) => record.id === head)?.fields;
  return fields?.find((field) => field.path === path) ?? fields?.find((field) => (field.array ?? field.id) === id);
}

function hyphens(id: string): string {
  return id.replaceAll("_", "-");
}
