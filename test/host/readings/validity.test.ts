import { describe, expect, it } from "vitest";
import { isoDate, lastValidDate } from "../../../host/readings/validity.ts";

/** Days from 2020-01-01 counted by hand: 366, then 365 a year, 366 in 2024. */
describe("calibration dates", () => {
  it.each([
    [0, "2020-01-01"],
    [59, "2020-02-29"],
    [366, "2021-01-01"],
    [1827, "2025-01-01"],
    [2000, "2025-06-23"],
  ])("day %d is %s", (day, date) => expect(isoDate(day)).toBe(date));

  it.each([
    [2000, 12, "2026-06-23"],
    [1827 + 30, 1, "2025-02-28"],
    [1461 + 30, 1, "2024-02-29"],
    [59, 12, "2021-02-28"],
    [1827 + 364, 2, "2026-02-28"],
  ])("day %d is valid for %d months, to %s", (day, months, date) => expect(lastValidDate(day, months)).toBe(date));
});
