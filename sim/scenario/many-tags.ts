/** Sixty-four tags in one field, to try what reads them: those of the training leg over and over. Invented. */
import type { Scenario } from "./scenario.ts";
import { trainingLeg } from "./training-leg.ts";

const COUNT = 64;

/** Serials of the first tag; those of the training leg end below. */
const FIRST = { epc: 0x5001, chip: 0x00a1_0000_5001, sensor: 50_001 };

export const manyTags: Scenario = {
  ...trainingLeg,
  name: "many-tags",
  title: "Sixty-four tags in one field, as many as no dressing has (invented)",
  tags: Array.from({ length: COUNT }, (_, i) => {
    const tag = trainingLeg.tags[i % trainingLeg.tags.length]!;
    return {
      ...tag,
      epc: tag.epc.slice(0, -4) + (FIRST.epc + i).toString(16),
      chipSerial: FIRST.chip + i,
      sensorSerial: FIRST.sensor + i,
      site: `place ${i + 1}`,
    };
  }),
};
