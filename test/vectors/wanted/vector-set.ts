/** Every vector file of a folder as data, without a type for each kind: what coverage looks at is the same in all of them. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export interface AnyVector {
  readonly id: string;
  readonly flags: readonly string[];
  readonly expected: {
    readonly verdict: "good" | "bad";
    readonly reason?: string;
    readonly byte?: number | null;
    readonly path?: string;
    readonly also?: readonly { readonly reason: string; readonly path: string }[];
    readonly [member: string]: unknown;
  };
  readonly repaired?: unknown;
  readonly [given: string]: unknown;
}

export interface AnyVectorFile {
  readonly name: string;
  readonly kind: string;
  readonly vectors: readonly AnyVector[];
}

export const VECTORS_FOLDER = fileURLToPath(new URL("../../../vectors/", import.meta.url));

/** Reads every `*.json` of a folder. Throws when one is no vector file. */
export function readVectorSet(folder: string): AnyVectorFile[] {
  const names = readdirSync(folder).filter((name) => name.endsWith(".json"));
  return names.sort().map((name) => {
    const { kind, vectors } = JSON.parse(readFileSync(join(folder, name), "utf8"));
    if (typeof kind !== "string" || !Array.isArray(vectors)) throw new Error(`${name} is no vector file`);
    return { name, kind, vectors };
  });
}

/** The vectors of one kind, from whichever files. */
export function vectorsOfKind(files: readonly AnyVectorFile[], ...kinds: readonly string[]): AnyVector[] {
  return files.filter(({ kind }) => kinds.includes(kind)).flatMap(({ vectors }) => vectors);
}
