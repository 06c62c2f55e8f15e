/** A share of the fuzzing, by count, and parsers that are wrong on purpose: each kind of broken promise is seen. */
import { describe, expect, it } from "vitest";
import { findingOf, minimised } from "./finding.ts";
import type { FuzzParser } from "./fuzz-parser.ts";
import { fuzz, keptInputs } from "./fuzz-run.ts";
import { parsers } from "./parsers.ts";

const SHARE = 150;

const hexOf = (bytes: Uint8Array) => Buffer.from(bytes).toString("hex");
const run = (parser: FuzzParser, inputs: number) => fuzz(parser, { seed: 7, goesOn: (done) => done < inputs });

describe.each(parsers)("$name", (parser) => {
  it("keeps its promises on seeds, kept inputs and mutations", { timeout: 300_000 }, async () => {
    const least = parser.seeds().length + keptInputs(parser.name).length;
    const { inputs, found } = await run(parser, least + SHARE);
    expect(found && { ...found, input: hexOf(found.input) }).toBeNull();
    expect(inputs).toBe(least + SHARE);
  });
});

/** Says the sum of the bytes, but for what `wrong` makes of it. */
function planted(wrong: (pieces: readonly Uint8Array[], all: Uint8Array) => { said?: string; broken?: string[] }) {
  const parser: FuzzParser = {
    name: "planted",
    seeds: () => [Uint8Array.from({ length: 64 }, (_, i) => i)],
    run: async (pieces) => {
      const all = Uint8Array.from(pieces.flatMap((piece) => [...piece]));
      return { said: `${all.length}`, broken: [], ...wrong(pieces, all) };
    },
  };
  return parser;
}

let calls = 0;
const FAULTS = [
  [
    "declared-errors",
    planted((_, all) => {
      if (all.includes(200)) throw new TypeError("planted");
      return {};
    }),
  ],
  ["account", planted((_, all) => (all.includes(200) ? { broken: ["a byte is missing"] } : {}))],
  ["chunks", planted((pieces, all) => (all.includes(200) && pieces.length > 1 ? { said: "cut" } : {}))],
  ["steady", planted((_, all) => (all.includes(200) ? { said: `${calls++}` } : {}))],
  ["bounded", planted((_, all) => (all.includes(200) ? { said: "x".repeat(6_000_000) } : {}))],
] as const;

describe("a parser that is wrong on purpose", () => {
  it.each(FAULTS)("breaks %s and is found out", async (promise, parser) => {
    const { found } = await run(parser, 20_000);
    expect(found?.promise).toBe(promise);
    expect(found!.input).toContain(200);
  });

  it("is shown with the one byte that does it", async () => {
    const [, parser] = FAULTS[0];
    const input = Uint8Array.from({ length: 90 }, (_, i) => (i === 41 ? 200 : 1));
    const finding = await findingOf(parser, input, [input]);
    expect(await minimised(parser, input, finding!)).toEqual(Uint8Array.of(200));
  });
});

describe("the same seed", () => {
  it("gives the same inputs, another seed others", async () => {
    const seen = async (seed: number) => {
      const inputs: string[] = [];
      const before = (input: Uint8Array) => inputs.push(hexOf(input));
      await fuzz(parsers[0]!, { seed, goesOn: (done) => done < 300, before });
      return inputs;
    };
    const first = await seen(3);
    expect(await seen(3)).toEqual(first);
    expect(await seen(4)).not.toEqual(first);
  });
});
