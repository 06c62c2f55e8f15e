/** Rooms of `protocol/` that are mutated, and the tests each is held against. */

/**
 * The tests with expected values that are about the room; no other program is needed. Random tests (test/property/) are left
 * out: they take most of the time, and what they notice differs from run to run. So a score is a lower bound.
 */
export const testsOf: { readonly [room: string]: readonly string[] } = {
  bytes: [
    "test/protocol/bytes/**/*.test.ts",
    "test/vectors/{slices,link-frames,stored-crc}.test.ts",
    "test/outside/{crc-catalogue,crc-package,gen2-crc}.test.ts",
  ],
  link: [
    "test/protocol/link/**/*.test.ts",
    "test/vectors/{link-frames,link-messages,refusals}.test.ts",
    "test/outside/cobs.test.ts",
  ],
  epc: [
    "test/protocol/epc/**/*.test.ts",
    "test/vectors/{epc-identity,stored-crc}.test.ts",
    "test/outside/{epc-tds,gs1-tds,gen2-crc}.test.ts",
  ],
  codec: ["test/protocol/codec/**/*.test.ts", "test/vectors/{records,slots,writing,quantities}.test.ts"],
  llrp: ["test/protocol/llrp/**/*.test.ts", "test/vectors/{llrp,llrp-stream}.test.ts"],
  model: [
    "test/protocol/model/**/*.test.ts",
    "test/vectors/{quantities,fingerprint}.test.ts",
    "test/outside/units.test.ts",
  ],
  emit: ["test/protocol/emit/**/*.test.ts"],
};
