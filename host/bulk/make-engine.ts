import type { Layout } from "../../protocol/index.ts";
import type { Engine } from "./engine.ts";
import { PlainEngine } from "./plain-engine.ts";
import { wasmEngine } from "./wasm-engine.ts";

/** The fastest engine this machine can run. */
export function makeEngine(layout: Layout): Engine {
  return wasmEngine(layout) ?? new PlainEngine(layout);
}
