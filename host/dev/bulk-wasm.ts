/** `npm run bulk-wasm` compiles the C scanner and writes it beside the host's code as text. */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { layout } from "../../protocol/index.ts";
import { layoutMark } from "../../protocol/model/emitted-file.ts";
import { buildBulk, bulkDigest } from "./bulk-build.ts";

const PATH = "host/bulk/wasm-binary.ts";

const wasm = buildBulk();
const text = `/** The C scanner as a WebAssembly module, ${wasm.length} bytes, made by "npm run bulk-wasm"; ${layoutMark(layout)}. */

/** SHA-256 over the compiler's flags and the C sources. */
export const sourceDigest = "${bulkDigest()}";

/** The module in base64. */
export const wasmBase64 =
  "${Buffer.from(wasm).toString("base64")}";
`;
writeFileSync(fileURLToPath(new URL(`../../${PATH}`, import.meta.url)), text);
console.log(`${PATH}: ${wasm.length} bytes`);
