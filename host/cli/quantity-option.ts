/** Quantities typed after an option, with their unit. */
import { columnOf, quantities, toSi, unitSuffix } from "../calibrate/bench-columns.ts";
import { CommandError, EXIT } from "./exit.ts";

/** A pressure difference such as `8Pa` or `0.06mmHg` in pascal; a CommandError of wrong use otherwise. */
export function pressureOption(name: string, text: string): number {
  const value = pressureText(text);
  if (value === null)
    throw new CommandError(EXIT.usage, `${name} ${text}: give a pressure with its unit, such as 8Pa or 0.06mmHg`);
  return value;
}

/** An expanded uncertainty of a fixed part, a share of the reading or both: `8Pa`, `0.1%`, `8Pa+0.05%`. */
export function uncertaintyOption(name: string, text: string): { expandedPa: number; expandedShare: number } {
  const parts = text.split("+").map((part) => part.trim());
  let [expandedPa, expandedShare] = [0, 0];
  for (const part of parts) {
    const share = /^(\d+(?:\.\d+)?)\s*%$/.exec(part);
    const fixed = pressureText(part);
    if (share) expandedShare += Number(share[1]) / 100;
    else if (fixed !== null && fixed >= 0) expandedPa += fixed;
    else
      throw new CommandError(EXIT.usage, `${name} ${text}: give it such as 8Pa, 0.1% or 8Pa+0.05% (expanded, k = 2)`);
  }
  return { expandedPa, expandedShare };
}

function pressureText(text: string): number | null {
  const [, digits, unit] = /^\s*([+-]?\d+(?:\.\d+)?)\s*([A-Za-z0-9]+)\s*$/.exec(text) ?? [];
  const suffix = unit === undefined ? null : unitSuffix(unit);
  if (suffix === null || !Object.hasOwn(quantities.reference.units, suffix)) return null;
  return toSi(columnOf(`reference_${suffix}`)!, Number(digits));
}
