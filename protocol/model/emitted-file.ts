/** What an emitter returns, and the phrases every emitted file shares. */
import { formatFingerprint } from "./canonical.ts";
import type { CompiledField, Layout } from "./layout.ts";
import { toValue } from "./scale.ts";

/** One file: its path from the root of the repository, `/` between folders, and its whole text. */
export interface EmittedFile {
  readonly path: string;
  readonly text: string;
}

/** `layout 1, fingerprint 0123abcd`: what an emitted file carries instead of a date. */
export function layoutMark(layout: Layout): string {
  return `layout ${layout.layout}, fingerprint ${formatFingerprint(layout.fingerprint)}`;
}

/** `0x` and at least `digits` lower-case hex digits. */
export function hexOf(raw: number, digits: number): string {
  return `0x${raw.toString(16).padStart(digits, "0")}`;
}

/** Raw range of a number field, `-4000 to 12500`. */
export function rawRange({ min, max }: CompiledField): string {
  return span(`${min}`, `${max}`);
}

/** Physical range of a number field with its unit, `-40 to 125 Cel`; a sentinel is not part of it. */
export function physicalRange(field: CompiledField): string {
  const unit = field.unit === "1" ? "" : ` ${field.unit}`;
  return `${span(decimal(toValue(field, field.min!)!), decimal(toValue(field, field.max!)!))}${unit}`;
}

function span(low: string, high: string): string {
  return low === high ? low : `${low} to ${high}`;
}

/** A double without an exponent: `0.000000001`. */
export function decimal(value: number): string {
  const text = String(value);
  const [mantissa, exponent] = text.split("e") as [string, string?];
  if (exponent === undefined) return text;
  return value.toFixed(Math.max(0, (mantissa.split(".")[1] ?? "").length - Number(exponent)));
}
