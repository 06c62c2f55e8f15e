import { describe, expect, it } from "vitest";
import { buildFirmware, COMPILER, digestOf, firmwareSources } from "../../host/dev/firmware-build.ts";
import { sourceDigest, wasmBase64 } from "../../sim/firmware/wasm-binary.ts";
import { needs } from "../support/outside.ts";

describe("the checked-in firmware binary", () => {
  it("was made from these sources", () => {
    expect(digestOf(firmwareSources()), `stale: run "npm run firmware-wasm"`).toBe(sourceDigest);
  });

  it("is small", () => {
    expect(Buffer.from(wasmBase64, "base64").length).toBeLessThan(8192);
  });

  needs(COMPILER, () => {
    it("is what the sources give, byte for byte", () => {
      expect(Buffer.from(buildFirmware(firmwareSources())).toString("base64")).toBe(wasmBase64);
    });
  });
});
