/** Compiles the C firmware to WebAssembly, and says what it was made from. */
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The compiler by its exact name: another version gives other bytes. Its linker comes with the package lld-14. */
export const COMPILER = "clang-14";

const SOURCES = ["plyframe.c", "plyframe.h", "plyframe_layout.h", "plyframe_port.h", "wasm/glue.c"] as const;
const FLAGS = [
  "--target=wasm32",
  "-std=c99",
  "-Oz",
  "-ffreestanding",
  "-nostdlib",
  "-Wall",
  "-Wextra",
  "-Werror",
  "-Wl,--no-entry",
  "-Wl,--allow-undefined",
  "-Wl,--strip-all",
  "-Wl,-z,stack-size=2048",
];

/** Text of every source by its path under protocol/firmware/. */
export type FirmwareSources = Readonly<Record<(typeof SOURCES)[number], string>>;

export function firmwareSources(): FirmwareSources {
  const folder = new URL("../../protocol/firmware/", import.meta.url);
  const entries = SOURCES.map((path) => [path, readFileSync(fileURLToPath(new URL(path, folder)), "utf8")]);
  return Object.fromEntries(entries) as FirmwareSources;
}

/** SHA-256 in hex over flags and sources, so that the checked-in binary is known to be stale without a compiler. */
export function digestOf(sources: FirmwareSources): string {
  const hash = createHash("sha256").update(FLAGS.join("\n"));
  for (const path of SOURCES) hash.update(`\n--- ${path}\n${sources[path]}`);
  return hash.digest("hex");
}

/** The module's bytes. Throws an Error with the compiler's words when it finds fault or is not there. */
export function buildFirmware(sources: FirmwareSources): Uint8Array {
  const folder = mkdtempSync(join(tmpdir(), "plyframe-firmware-"));
  try {
    for (const path of SOURCES) {
      mkdirSync(dirname(join(folder, path)), { recursive: true });
      writeFileSync(join(folder, path), sources[path]);
    }
    const args = [...FLAGS, "-o", "firmware.wasm", "plyframe.c", "wasm/glue.c"];
    const { error, status, stderr } = spawnSync(COMPILER, args, { cwd: folder, encoding: "utf8" });
    if (error) throw new Error(`${COMPILER}: ${error.message}`);
    if (status !== 0) throw new Error(stderr);
    return readFileSync(join(folder, "firmware.wasm"));
  } finally {
    rmSync(folder, { recursive: true });
  }
}
