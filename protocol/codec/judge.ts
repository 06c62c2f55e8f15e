import type { CompiledField } from "../model/layout.ts";
import { reasons } from "../model/reasons.ts";

const KIND = reasons["kind-unexpected"].number;
const LAYOUT = reasons["layout-unknown"].number;
const MARKER = reasons["marker-mismatch"].number;
const RESERVED = reasons["reserved-bit-set"].number;
const NAME = reasons["name-unknown"].number;
const RANGE = reasons["value-out-of-range"].number;

/**
 * What the specification says of one raw value: 0 when it is allowed, else the number of the reason.
 * Checksums are judged where the bytes are.
 */
export function judge(field: CompiledField, raw: number): number {
  switch (field.type) {
    case "unsigned":
    case "signed":
      return raw >= field.min! && raw <= field.max! ? 0 : isSentinel(field, raw) ? 0 : RANGE;
    case "flags":
      return raw === (raw & field.named!) >>> 0 ? 0 : RESERVED;
    case "reserved":
      return raw === 0 ? 0 : RESERVED;
    case "enumeration":
      return isNamed(field, raw) ? 0 : NAME;
    case "constant":
      if (raw === field.raw) return 0;
      return field.role === "kind" ? KIND : field.role === "layout" ? LAYOUT : MARKER;
    case "checksum":
      return 0;
  }
}

/**
 * A run of raw values that `judge` allows, `[first, last]`: two comparisons settle nearly every value, and only what
 * lies outside has to be judged.
 */
export function allowedRun(field: CompiledField): readonly [first: number, last: number] {
  switch (field.type) {
    case "unsigned":
    case "signed": {
      const next = isSentinel(field, field.max! + 1) ? 1 : 0;
      return [field.min!, field.max! + next];
    }
    case "flags":
      return [0, field.named === 2 ** field.width - 1 ? field.named : 0];
    case "reserved":
      return [0, 0];
    case "enumeration":
      return [field.names![0]!.raw, field.names![0]!.raw];
    case "constant":
      return [field.raw!, field.raw!];
    case "checksum":
      return [0, 2 ** field.width - 1];
  }
}

/** Whether every raw value that fits the field's bits is allowed. */
export function isAlwaysAllowed(field: CompiledField): boolean {
  const [first, last] = allowedRun(field);
  return last - first === 2 ** field.width - 1;
}

function isSentinel(field: CompiledField, raw: number): boolean {
  const sentinels = field.sentinels!;
  for (let i = 0; i < sentinels.length; i++) if (sentinels[i]!.raw === raw) return true;
  return false;
}

function isNamed(field: CompiledField, raw: number): boolean {
  const names = field.names!;
  for (let i = 0; i < names.length; i++) if (names[i]!.raw === raw) return true;
  return false;
}
