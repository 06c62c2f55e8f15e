/**
 * `npm run emit`: writes what follows from the specification. `-- --check` writes nothing and exits 1 naming stale files;
 * `-- --release` keeps the present layout for good. The only place that writes emitted files.
 */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { emitRelease } from "../../protocol/emit/release.ts";
import { type EmittedFile, layoutMark } from "../../protocol/model/emitted-file.ts";
import { compile } from "../../protocol/model/layout.ts";
import { specification } from "../../protocol/spec/plyframe.ts";
import { emittedFiles } from "./emitted-files.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

function kept({ path }: EmittedFile): string | null {
  const file = join(root, path);
  return existsSync(file) ? readFileSync(file, "utf8") : null;
}

function write({ path, text }: EmittedFile): void {
  const file = join(root, path);
  mkdirSync(dirname(file), { recursive: true });
  writeFileSync(file, text);
  console.log(`wrote ${path}`);
}

/** Files whose text is not what the specification gives; a released layout only has to carry the same fingerprint. */
function stale(): string[] {
  const mark = layoutMark(compile(specification));
  const files = emittedFiles(specification).filter((file) => kept(file) !== file.text);
  const changed = emitRelease(compile(specification)).filter((file) => !(kept(file) ?? mark).includes(mark));
  return [
    ...files.map(({ path }) => `${path} is stale: run "npm run emit"`),
    ...changed.map(
      ({ path }) => `${path} was released with another fingerprint: raise LAYOUT in protocol/spec/seal.ts`,
    ),
  ];
}

function release(): void {
  for (const file of emitRelease(compile(specification))) {
    const before = kept(file);
    if (before === null) write(file);
    else if (before === file.text) console.log(`${file.path} holds this layout already`);
    else {
      console.error(`${file.path} is released and differs: a released layout is never overwritten`);
      process.exitCode = 1;
    }
  }
}

const [option, ...more] = process.argv.slice(2);
if (more.length > 0 || (option !== undefined && option !== "--check" && option !== "--release")) {
  console.error("usage: npm run emit [-- --check | -- --release]");
  process.exitCode = 2;
} else if (option === "--check") {
  const found = stale();
  for (const line of found) console.error(line);
  if (found.length > 0) process.exitCode = 1;
  else console.log("every emitted file follows from the specification");
} else if (option === "--release") release();
else for (const file of emittedFiles(specification)) if (kept(file) !== file.text) write(file);
