/** Vitest of the mutation run: the tests of the room that PLYFRAME_ROOM names. */
import { defineConfig } from "vitest/config";
import { testsOf } from "./rooms.ts";

const room = process.env.PLYFRAME_ROOM ?? "";
const include = testsOf[room];
if (!include) throw new Error(`PLYFRAME_ROOM is "${room}"; there are ${Object.keys(testsOf).join(", ")}`);

export default defineConfig({
  test: { include: [...include], testTimeout: 60_000, hookTimeout: 60_000 },
});
