import { fileURLToPath } from "node:url";

/** A port that starts this program as a simulated kit; `words` are those behind `plyframe`. */
export function simulatedPort(words: string): string {
  const program = fileURLToPath(new URL("./main.js", import.meta.url));
  return `exec:"${process.execPath}" "${program}" ${words}`;
}
