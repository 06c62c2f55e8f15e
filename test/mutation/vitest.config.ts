/** The pure tests of `protocol/`, for the mutation run: no other program, no file of the house rewritten. */
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: [
      "test/protocol/**/*.test.ts",
      "test/property/**/*.test.ts",
      "test/vectors/{records,slots,slices,quantities,fingerprint,writing}.test.ts",
      "test/vectors/{epc-identity,stored-crc,llrp,llrp-stream,link-frames,link-messages,refusals}.test.ts",
      "test/outside/{cobs,crc-catalogue,crc-package,epc-tds,gs1-tds,gen2-crc,units}.test.ts",
    ],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
