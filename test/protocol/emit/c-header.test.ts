/** Literals of the C header for numbers that the specification has not, as C wants them with an int of 16 bits. */
import { expect, it } from "vitest";
import { emitCHeader } from "../../../protocol/emit/c-header.ts";
import { type CompiledField, compile } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";
import { withEmptyRegion, withField } from "../../support/changed-layout.ts";

const layout = compile(specification);

function limits(change: Partial<CompiledField>): string[] {
  const text = emitCHeader(withField(layout, "frame.supply", { sentinels: [], ...change }))[0]!.text;
  return [...text.matchAll(/#define PLY_FRAME_SUPPLY_M(?:IN|AX) (.+)/g)].map(([, literal]) => literal!);
}

/** 32768 and 2147483648 are too large for the type of their negative. */
it.each([
  ["16 bits with a sign", { signed: true, bytes: 2, min: -32_768, max: 32_767 }, ["(-32767 - 1)", "32767"]],
  [
    "32 bits with a sign",
    { signed: true, bytes: 4, min: -(2 ** 31), max: 2 ** 31 - 1 },
    ["(-2147483647L - 1L)", "2147483647L"],
  ],
  ["less than the least", { signed: true, bytes: 4, min: -32_768, max: -1 }, ["(-32768L)", "(-1L)"]],
  ["8 bits with a sign", { signed: true, bytes: 1, min: -128, max: 0 }, ["(-128)", "0"]],
  ["16 bits without", { signed: false, bytes: 2, min: 0, max: 65_535 }, ["0u", "65535u"]],
  ["32 bits without", { signed: false, bytes: 4, min: 0, max: 2 ** 32 - 1 }, ["0UL", "4294967295UL"]],
])("%s", (_, change, literals) => {
  expect(limits(change)).toEqual(literals);
});

it("has no address where no record is", () => {
  expect(emitCHeader(withEmptyRegion(layout, "nothing", 4))).toEqual(emitCHeader(layout));
});
