/** Reference levels of ICNIRP and the distances they give, computed from S = EIRP / 4 pi r^2. */
import { describe, expect, it } from "vitest";
import { exposureDistance, exposureLevels } from "../../sim/rf/exposure.ts";

const levelOf = (id: string) => exposureLevels.find((level) => level.id === id)!;

describe("power density at 866 MHz", () => {
  // f/200 (ICNIRP 1998 and 2020), 0.058 f^0.86 (ICNIRP 2020), f/40 (from memory).
  it.each([
    ["public_whole_body", 4.33],
    ["public_local", 19.5],
    ["occupational_whole_body", 21.65],
  ])("%s", (id, watt) => expect(levelOf(id).wattPerM2(866)).toBeCloseTo(watt, id === "public_local" ? 1 : 2));
});

describe("distance at which the general public's level is reached", () => {
  it.each([
    ["2 W ERP", 3.28, 0.246],
    ["4 W EIRP", 4, 0.271],
    ["4 W ERP", 6.56, 0.347],
  ])("%s", (_, eirpW, metres) => {
    const { distanceM } = exposureDistance(levelOf("public_whole_body"), eirpW, 1, 866e6, 0.1);
    expect(distanceM).toBeCloseTo(metres, 3);
  });

  it("2 W ERP at 20 cm are 6.53 W/m2", () => {
    const level = { ...levelOf("public_whole_body"), wattPerM2: () => 6.53 };
    expect(exposureDistance(level, 3.28, 1, 868e6, 0.1).distanceM).toBeCloseTo(0.2, 3);
  });
});
