/** A scene with many tags: those of the training leg over and over, each with identity and serials of its own. Invented. */
import type { Scenario } from "../../sim/scenario/scenario.ts";
import { trainingLeg } from "../../sim/scenario/training-leg.ts";

/** `count` tags, 1 to 64, all in one field. */
export function manyTags(count: number, seed: number): Scenario {
  const tags = Array.from({ length: count }, (_, i) => {
    const tag = trainingLeg.tags[i % trainingLeg.tags.length]!;
    const tail = (0x5000 + i).toString(16).padStart(8, "0");
    return {
      ...tag,
      epc: tag.epc.slice(0, 16) + tail,
      chipSerial: tag.chipSerial + 100 + i,
      sensorSerial: tag.sensorSerial + 100 + i,
      site: `${i + 1}`,
    };
  });
  return { ...trainingLeg, name: "many-tags", title: `${count} tags in one field (invented)`, seed, tags };
}
