/** The example session against the scene it was made of: what the simulated load really was. */
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import formats from "ajv-formats";
import { beforeAll, describe, expect, it } from "vitest";
import type { SessionResult } from "../../../host/sessions/session-result.ts";
import { sessionSchema } from "../../../host/sessions/session-schema.ts";
import { scenarios } from "../../../sim/index.ts";
import { EXAMPLE_SESSION, exampleSession } from "../../support/example-session.ts";

let example: SessionResult;
beforeAll(async () => {
  example = await exampleSession();
});

const { tags } = scenarios["training-leg"]!;

describe("the example session", () => {
  it("fits the published schema, without any keyword of this program", () => {
    const ajv = new Ajv2020({ strict: false });
    formats.default(ajv);
    const validate = ajv.compile(sessionSchema);
    expect(validate(JSON.parse(readFileSync(EXAMPLE_SESSION, "utf8"))), JSON.stringify(validate.errors)).toBe(true);
  });

  it("says that it is invented", () => expect(example.provenance.invented).toBe(true));

  it("finds the scene's rise on standing at every site, within its uncertainty", () => {
    for (const { tag, stiffness } of example.sites) {
      const truth = tags.find(({ epc }) => epc === tag.epc)!.load!.standingRiseMmHg;
      expect(stiffness).toHaveLength(1);
      expect(Math.abs(stiffness[0]!.indexMmhg - truth)).toBeLessThan(stiffness[0]!.uncertaintyMmhg!);
    }
  });

  it("finds the scene's resting pressure, relaxed since the wrapping, within the uncertainty", () => {
    for (const { tag, postures } of example.sites) {
      const { restingMmHg, relaxationShare, relaxationTimeConstantS } = tags.find(({ epc }) => epc === tag.epc)!.load!;
      // Wrapped 180 s before; the window's middle is at 21 s.
      const truth = restingMmHg * (1 - relaxationShare * (1 - Math.exp(-201 / relaxationTimeConstantS)));
      const { medianMmhg, uncertaintyMmhg } = postures[0]!;
      expect(Math.abs(medianMmhg - truth)).toBeLessThan(uncertaintyMmhg!);
    }
  });

  it("finds a swing while walking of the size of the scene's", () => {
    const [b1] = example.sites;
    // Amplitude 11 mmHg; the gait's wave 0.75 sin x + 0.35 sin(2x + 0.9) spans 1.82 from lowest to highest (evaluated at 6284 points).
    expect(b1!.walking!.medianMmhg).toBeGreaterThan(0.9 * 11 * 1.82);
    expect(b1!.walking!.medianMmhg).toBeLessThan(1.1 * 11 * 1.82);
  });

  it("sees the weakly powered tag's gaps and no other's", () => {
    expect(example.sites.map(({ coverage }) => coverage.gaps.length > 0)).toEqual([false, false, false, true]);
  });
});
