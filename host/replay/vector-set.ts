/** The vector files as data, with the version and the digest that tell one set from another. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** One vector as it stands in its file; the members depend on the file's kind. */
export interface Vector {
  readonly id: string;
  readonly why: string;
  readonly flags: readonly string[];
  readonly expected: { readonly verdict: "good" | "bad"; readonly [member: string]: unknown };
  readonly [member: string]: unknown;
}

export interface VectorFile {
  /** File name without its ending. */
  readonly name: string;
  readonly kind: string;
  readonly vectors: readonly Vector[];
}

export interface VectorSet {
  /** Semantic version of the set. */
  readonly version: string;
  /** SHA-256 of all files one behind the other in the order of their names, as hex: `cat vectors/*.json | sha256sum`. */
  readonly digest: string;
  readonly files: readonly VectorFile[];
}

/** Reads the set in a folder; throws what the file system throws. */
export function readVectorSet(folder: string): VectorSet {
  const hash = createHash("sha256");
  const names = readdirSync(folder)
    .filter((name) => name.endsWith(".json"))
    .sort();
  const files = names.map((name) => {
    const text = readFileSync(join(folder, name), "utf8");
    hash.update(text);
    const { kind, vectors } = JSON.parse(text) as Omit<VectorFile, "name">;
    return { name: name.replace(/\.json$/, ""), kind, vectors };
  });
  return { version: readFileSync(join(folder, "VERSION"), "utf8").trim(), digest: hash.digest("hex"), files };
}
