/**
 * `npm run firmware-wasm` compiles the C firmware and writes it into the simulation as text, so that it runs wherever
 * Node or a browser does.
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { layout } from "../../protocol/index.ts";
import { layoutMark } from "../../protocol/model/emitted-file.ts";
import { buildFirmware, digestOf, firmwareSources } from "./firmware-build.ts";

const PATH = "sim/firmware/wasm-binary.ts";

const sources = firmwareSources();
const wasm = buildFirmware(sources);
const text = `/** The C firmware as a WebAssembly module, ${wasm.length} bytes, made by "npm run firmware-wasm"; ${layoutMark(layout)}. */

/** SHA-256 over the compiler's flags and the C sources. */
export const sourceDigest = "${digestOf(sources)}";

/** The module in base64. */
export const wasmBase64 =
  "${Buffer.from(wasm).toString("base64")}";
`;
writeFileSync(fileURLToPath(new URL(`../../${PATH}`, import.meta.url)), text);
console.log(`${PATH}: ${wasm.length} bytes`);
