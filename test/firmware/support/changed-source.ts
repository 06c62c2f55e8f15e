import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { firmwareSource } from "./image.ts";
import { workFolder } from "./program.ts";

/** A copy of the firmware's source with one text in place of another, which must stand there exactly once. */
export function changedSource(text: string, by: string): string {
  const source = readFileSync(firmwareSource, "utf8");
  const times = source.split(text).length - 1;
  if (times !== 1) throw new Error(`"${text}" stands ${times} times in plyframe.c`);
  const file = join(workFolder(), "changed.c");
  writeFileSync(file, source.replace(text, by));
  return file;
}
