import { readdirSync } from "node:fs";
import { join, resolve } from "node:path";

const root = resolve(import.meta.dirname, "../..");

/** Every document in the repository, by its path from the root: their examples are run as they stand. */
export const documents: readonly string[] = [".", "protocol", "host", "sim", "vectors"].flatMap((folder) =>
  readdirSync(join(root, folder), { recursive: folder !== ".", encoding: "utf8" })
    .filter((name) => name.endsWith(".md"))
    .map((name) => (folder === "." ? name : `${folder}/${name}`))
    .sort(),
);
