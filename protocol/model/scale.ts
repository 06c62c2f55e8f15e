/** Raw integer to physical value and back, exactly, by the field's rational scale and rounding rule. */
import type { CompiledField } from "./layout.ts";

/** Physical value of a raw integer, correctly rounded to a double; null for a sentinel that means "absent". */
export function toValue(field: CompiledField, raw: number): number | null {
  for (const sentinel of field.sentinels ?? []) {
    if (sentinel.raw === raw && sentinel.means === "absent") return null;
    if (sentinel.raw === raw) return toValue({ ...field, sentinels: [] }, field.max!);
  }
  return (raw * (field.num ?? 1) + (field.add ?? 0)) / (field.den ?? 1);
}

/**
 * Raw integer of a physical value, rounded by the field's rule from the shortest decimal that names the double.
 * Outside the range: the nearest end when the field saturates, null when it rejects. Not-a-number and infinities are null.
 */
export function toRaw(field: CompiledField, value: number): number | null {
  if (!Number.isFinite(value)) return null;
  const { digits, exponent } = decimal(value);
  const num = BigInt(field.num ?? 1);
  let top = digits * BigInt(field.den ?? 1);
  let bottom = 1n;
  if (exponent >= 0) top *= 10n ** BigInt(exponent);
  else bottom = 10n ** BigInt(-exponent);
  top -= BigInt(field.add ?? 0) * bottom;
  const rounded = divide(top, bottom * num, field.rounding ?? "half-away-from-zero");
  const min = BigInt(field.min!);
  const max = BigInt(field.max!);
  if (rounded >= min && rounded <= max) return Number(rounded);
  if (field.outOfRange === "reject") return null;
  if (rounded < min) return field.min!;
  return field.sentinels?.find(({ means }) => means === "saturated")?.raw ?? field.max!;
}

function decimal(value: number): { digits: bigint; exponent: number } {
  const [mantissa, exponent = "0"] = String(value).split("e") as [string, string?];
  const [whole, fraction = ""] = mantissa.split(".") as [string, string?];
  return { digits: BigInt(whole + fraction), exponent: Number(exponent) - fraction.length };
}

function divide(top: bigint, bottom: bigint, rounding: "half-away-from-zero" | "floor"): bigint {
  if (rounding === "floor") {
    const quotient = top / bottom;
    return top % bottom < 0n ? quotient - 1n : quotient;
  }
  const magnitude = top < 0n ? -top : top;
  const quotient = (2n * magnitude + bottom) / (2n * bottom);
  return top < 0n ? -quotient : quotient;
}
