import { bandScheme } from "../readings/bands.ts";
import { cautions } from "../readings/cautions.ts";
import { fold } from "./terminal.ts";

/** The cautions and the meaning of the bands, once before people see pressures. */
export function introduction(): string[] {
  const width = Math.max(40, Math.min(process.stderr.columns || process.stdout.columns || 110, 110));
  const bands = `Bands by ${bandScheme.id}: ${bandScheme.edges}. Uncertainties (U) are expanded, k = 2.`;
  return [...cautions, bands].flatMap((text) => fold(text, width));
}
