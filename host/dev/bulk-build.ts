/** Compiles the C scanner to WebAssembly, and says what it was made from. */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { COMPILER } from "./firmware-build.ts";

const ROOT = fileURLToPath(new URL("../../", import.meta.url));
const SOURCES = [
  "host/bulk/native/scan.c",
  "host/bulk/native/text.h",
  "host/bulk/native/vectors.h",
  "host/bulk/native/rows.h",
  "host/bulk/native/columns.h",
  "protocol/emitted/bulk.h",
] as const;
const FLAGS = [
  "--target=wasm32",
  "-std=c99",
  "-O3",
  "-msimd128",
  "-mbulk-memory",
  "-matomics",
  "-ffreestanding",
  "-nostdlib",
  "-Wall",
  "-Wextra",
  "-Werror",
  "-Wl,--no-entry",
  "-Wl,--shared-memory",
  "-Wl,--max-memory=6291456",
  "-Wl,--strip-all",
  "-Wl,-z,stack-size=16384",
];

/** SHA-256 in hex over flags and sources, so that the checked-in binary is known to be stale without a compiler. */
export function bulkDigest(): string {
  const hash = createHash("sha256").update(FLAGS.join("\n"));
  for (const path of SOURCES) hash.update(`\n--- ${path}\n${readFileSync(join(ROOT, path), "utf8")}`);
  return hash.digest("hex");
}

/** The module's bytes. Throws an Error with the compiler's words when it finds fault or is not there. */
export function buildBulk(): Uint8Array {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-bulk-"));
  try {
    const out = join(folder, "scan.wasm");
    const { error, status, stderr } = spawnSync(COMPILER, [...FLAGS, "-o", out, SOURCES[0]], {
      cwd: ROOT,
      encoding: "utf8",
    });
    if (error) throw new Error(`${COMPILER}: ${error.message}`);
    if (status !== 0) throw new Error(stderr);
    return readFileSync(out);
  } finally {
    rmSync(folder, { recursive: true });
  }
}
