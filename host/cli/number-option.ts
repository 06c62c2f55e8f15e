import { CommandError, EXIT } from "./exit.ts";

/** A number typed after an option, within its limits; a CommandError of wrong use otherwise. */
export function numberOption(name: string, text: string, low: number, high: number): number {
  const value = Number(text);
  if (text.trim() === "" || !(value >= low && value <= high)) {
    throw new CommandError(EXIT.usage, `${name} ${text}: give a number from ${low} to ${high}`);
  }
  return value;
}

/** The seed of a simulation: a whole number of 32 bits. */
export function seedOption(text: string): number {
  const value = numberOption("--seed", text, 0, 2 ** 32 - 1);
  if (Number.isInteger(value)) return value;
  throw new CommandError(EXIT.usage, `--seed ${text}: give a whole number`);
}
