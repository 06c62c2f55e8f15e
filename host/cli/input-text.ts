import { readFileSync } from "node:fs";
import { CommandError, EXIT, systemSentence } from "./exit.ts";

/** A whole text file, or standard input for `-`; throws a CommandError when it cannot be read. */
export function inputText(name: string): string {
  try {
    return readFileSync(name === "-" ? 0 : name, "utf8");
  } catch (error) {
    throw new CommandError(EXIT.device, systemSentence(name, error));
  }
}

/** The name under which messages speak of an input. */
export function inputName(name: string): string {
  return name === "-" ? "standard input" : name;
}
