import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["test/**/*.test.ts"],
    testTimeout: 180_000,
    hookTimeout: 180_000,
    expect: { poll: { timeout: 120_000 } },
    coverage: { include: ["protocol/**", "sim/**", "host/**"], exclude: ["protocol/emitted/**"] },
  },
});
