import { describe, expect, it } from "vitest";
import { camelCase, isReservedInC, isSnakeCase, pascalCase, valueName } from "../../../protocol/model/names.ts";
import { unitSuffix, units } from "../../../protocol/model/units.ts";

describe("names", () => {
  it("tells snake_case from everything else", () => {
    for (const id of ["a", "slot_a", "calibration_1", "x9"]) expect(isSnakeCase(id)).toBe(true);
    for (const id of ["", "A", "slotA", "slot__a", "_a", "a_", "9a", "a-b", "a b", "ä"])
      expect(isSnakeCase(id)).toBe(false);
  });

  it("knows the keywords of C (C11, 6.4.1, from memory) and leaves other words alone", () => {
    for (const id of ["int", "register", "sizeof", "volatile", "inline"]) expect(isReservedInC(id)).toBe(true);
    for (const id of ["frame", "integer", "status"]) expect(isReservedInC(id)).toBe(false);
  });

  it("turns snake_case into the two cases of TypeScript", () => {
    expect(camelCase("time_since_start")).toBe("timeSinceStart");
    expect(camelCase("calibration_1")).toBe("calibration1");
    expect(pascalCase("tag_report")).toBe("TagReport");
    expect(pascalCase("x")).toBe("X");
  });

  it("ends the name of a value with its unit", () => {
    expect(valueName({ id: "pressure", unit: "Pa" })).toBe("pressurePa");
    expect(valueName({ id: "kit_time", unit: "us" })).toBe("kitTimeUs");
    expect(valueName({ id: "samples[3]", array: "samples", unit: "Pa" })).toBe("samplesPa");
    expect(valueName({ id: "sequence", unit: "1" })).toBe("sequence");
    expect(valueName({ id: "status" })).toBe("status");
  });

  it("has one symbol and one suffix for each unit, so that a suffix tells which unit it was", () => {
    const all = Object.values(units);
    expect(new Set(all.map(({ symbol }) => symbol)).size).toBe(all.length);
    const suffixes = all.map(({ suffix }) => suffix).filter((suffix) => suffix !== "");
    expect(new Set(suffixes).size).toBe(suffixes.length);
    expect(unitSuffix("furlong")).toBe("");
  });
});
