import { manyTags } from "./many-tags.ts";
import type { Scenario } from "./scenario.ts";
import { trainingLeg, trainingLegOutside } from "./training-leg.ts";

/** Every scenario by its name; without a prototype, so that no other word finds anything. */
export const scenarios: { readonly [name: string]: Scenario | undefined } = Object.assign(Object.create(null), {
  [trainingLeg.name]: trainingLeg,
  [trainingLegOutside.name]: trainingLegOutside,
  [manyTags.name]: manyTags,
});
