/** protocol/COMPENSATION.md: its worked examples, and the bound it states for the distance from the real-number formula. */
import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Coefficients, calibratedAbsolute, calibratedGauge } from "../../../protocol/codec/compensate.ts";

const page = readFileSync(new URL("../../../protocol/COMPENSATION.md", import.meta.url), "utf8");
const head = "| case | pressure |";
const rows = page
  .slice(page.indexOf(head))
  .split("\n")
  .filter((line) => line.startsWith("|"))
  .slice(2)
  .map((line) => line.split("|").map((cell) => cell.trim()));

describe("the worked examples", () => {
  it.each(rows.map((cells) => ({ name: cells[1]!, cells })))("$name", ({ cells }) => {
    const [pressure, , ambient, offset, gain, temperatureEffect, gainTemperature, curvature, referenceTemperature] =
      cells.slice(2, 11).map(Number) as number[];
    const temperature = cells[3] === "none" ? null : Number(cells[3]);
    const c = { offset, gain, temperatureEffect, gainTemperature, curvature, referenceTemperature } as Coefficients;
    const absolute = calibratedAbsolute(pressure!, temperature, c);
    expect(absolute).toBe(Number(cells[11]));
    const gauge = calibratedGauge(absolute, ambient!, temperature, c)!;
    expect(gauge).toBe(Number(cells[12]));
    expect((gauge / 128).toFixed(4)).toBe(cells[13]);
  });

  it("are four", () => expect(rows).toHaveLength(4));
});

describe("the integers", () => {
  it("stay within the stated bound of the formula, over the whole range of coefficients", () => {
    const word = fc.integer({ min: -32_768, max: 32_767 });
    const temperature = fc.integer({ min: -4000, max: 12_500 });
    const all = fc.record({
      ambient: fc.integer({ min: 3_328_000, max: 16_128_000 }),
      load: fc.integer({ min: -2_000_000, max: 2_000_000 }),
      temperature,
      offset: fc.integer({ min: -8_388_608, max: 8_388_607 }),
      gain: fc.integer({ min: 262_144, max: 4_194_304 }),
      temperatureEffect: word,
      gainTemperature: word,
      curvature: word,
      referenceTemperature: temperature,
    });
    let judged = 0;
    fc.assert(
      fc.property(all, ({ ambient, load, temperature: t, ...c }) => {
        const pressure = ambient + load;
        const absolute = calibratedAbsolute(pressure, t, c);
        const gauge = calibratedGauge(absolute, ambient, t, c);
        if (gauge === null) return;
        judged++;
        const kelvin = (t - c.referenceTemperature) / 100;
        const real = (pressure + c.offset) / 128 - (c.temperatureEffect / 64) * kelvin;
        const share = (c.gain / 1_048_576) * (1 + (c.gainTemperature / 1e6) * kelvin);
        const linear = (real - ambient / 128) * share;
        const out = linear * (1 + (c.curvature / 1e9) * linear) * 128;
        const bound = 0.5 * Math.abs(share) + (0.5 * (Math.abs(absolute - ambient) + 1)) / 1_048_576 + 0.5;
        const slope = 1 + 2 * Math.abs((c.curvature / 1e9) * linear) + 0.01;
        expect(Math.abs(gauge - out)).toBeLessThanOrEqual(bound * slope + 0.5 + 0.01);
      }),
      { numRuns: 5000 },
    );
    expect(judged).toBeGreaterThan(200);
  });
});
