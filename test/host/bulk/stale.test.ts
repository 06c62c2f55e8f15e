/** The WebAssembly module that is checked in is what the C sources give. */
import { describe, expect, it } from "vitest";
import { sourceDigest, wasmBase64 } from "../../../host/bulk/wasm-binary.ts";
import { buildBulk, bulkDigest } from "../../../host/dev/bulk-build.ts";
import { COMPILER } from "../../../host/dev/firmware-build.ts";
import { needs } from "../../support/outside.ts";

describe("the module of the scanner", () => {
  it("was made from the sources as they are (else: npm run bulk-wasm)", () => {
    expect(sourceDigest).toBe(bulkDigest());
  });

  needs(COMPILER, () => {
    it("is, byte for byte, what the compiler gives", () => {
      expect(Buffer.from(buildBulk()).toString("base64")).toBe(wasmBase64);
    });
  });
});
