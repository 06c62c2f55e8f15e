/** Files that come with the package, found from the source as from what was compiled of it. */
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** Path of a file of the package by its path from the package's folder, which is the one that holds the vectors. */
export function packageFile(path: string): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, "vectors"))) folder = dirname(folder);
  return join(folder, path);
}
