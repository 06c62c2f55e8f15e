import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Coefficients,
  calibratedAbsolute,
  calibratedGauge,
  divideRounded,
  GAUGE_LIMIT,
} from "../../../protocol/codec/compensate.ts";
import { compile, fieldIndex, recordOf } from "../../../protocol/model/layout.ts";
import { specification } from "../../../protocol/spec/plyframe.ts";

const layout = compile(specification);
const block = recordOf(layout, "calibration");
const frame = recordOf(layout, "frame");
const boundsOf = (record: typeof block, id: string): [min: number, max: number] => {
  const { min, max } = record.fields[fieldIndex(record, id)]!;
  return [min!, max!];
};

/** Nearest integer to n/d, halves away from zero, by a floor that BigInt does not have. */
function nearest(n: bigint, d: bigint): bigint {
  if (n < 0n) return -nearest(-n, d);
  let quotient = n / d;
  if (2n * (n - quotient * d) >= d) quotient += 1n;
  return quotient;
}

/** The largest integer the rule's arithmetic meets on its way, doubled where a remainder is doubled. */
class Watch {
  largest = 0n;
  see(value: bigint): bigint {
    const magnitude = value < 0n ? -value : value;
    if (magnitude > this.largest) this.largest = magnitude;
    return value;
  }
  divide(n: bigint, d: bigint): bigint {
    this.see(n);
    this.see(2n * d);
    return this.see(nearest(n, d));
  }
}

/** The rule step by step in integers without limit; see protocol/COMPENSATION.md for the same in words. */
function byRule(p: number, ambient: number, t: number | null, c: Coefficients, watch = new Watch()) {
  const kelvin = t === null ? 0n : BigInt(t) - BigInt(c.referenceTemperature);
  const rise = watch.divide(kelvin * BigInt(c.temperatureEffect), 50n);
  const absolute = watch.see(BigInt(p) + BigInt(c.offset) - rise);
  const difference = watch.see(absolute - BigInt(ambient));
  const limit = BigInt(GAUGE_LIMIT);
  const beyond = (value: bigint) => value > limit || value < -limit;
  if (beyond(difference)) return { absolute, gauge: null };
  const gain = watch.see(
    BigInt(c.gain) + watch.divide(BigInt(c.gain) * kelvin * BigInt(c.gainTemperature), 100_000_000n),
  );
  const linear = watch.divide(difference * gain, 1_048_576n);
  if (beyond(linear)) return { absolute, gauge: null };
  const square = watch.divide(linear * linear, 16_384n);
  return { absolute, gauge: watch.see(linear + watch.divide(square * BigInt(c.curvature) * 2n, 15_625_000n)) };
}

function byCode(p: number, ambient: number, t: number | null, c: Coefficients) {
  const absolute = calibratedAbsolute(p, t, c);
  return { absolute, gauge: calibratedGauge(absolute, ambient, t, c) };
}

const within = (record: typeof block, id: string) => {
  const [min, max] = boundsOf(record, id);
  return fc.oneof({ weight: 3, arbitrary: fc.integer({ min, max }) }, fc.constantFrom(min, max));
};

const coefficients: fc.Arbitrary<Coefficients> = fc.record({
  offset: within(block, "offset"),
  gain: within(block, "gain"),
  temperatureEffect: within(block, "temperature_effect"),
  gainTemperature: within(block, "gain_temperature"),
  curvature: within(block, "curvature"),
  referenceTemperature: within(block, "reference_temperature"),
});
const pressure = within(frame, "pressure");
const temperature = fc.option(within(frame, "temperature"), { nil: null, freq: 8 });

describe("compensation", () => {
  it("is the rule in integers without limit, over the whole value space", () => {
    fc.assert(
      fc.property(pressure, pressure, temperature, coefficients, (p, ambient, t, c) => {
        const { absolute, gauge } = byRule(p, ambient, t, c);
        const ours = byCode(p, ambient, t, c);
        expect(BigInt(ours.absolute)).toBe(absolute);
        expect(ours.gauge === null ? null : BigInt(ours.gauge)).toBe(gauge);
      }),
      { numRuns: 5000 },
    );
  });

  it("is the rule also where the difference is small enough to be a gauge pressure", () => {
    let gauges = 0;
    const near = fc.integer({ min: -GAUGE_LIMIT - 2, max: GAUGE_LIMIT + 2 });
    fc.assert(
      fc.property(pressure, near, temperature, coefficients, (p, difference, t, c) => {
        const ambient = calibratedAbsolute(p, t, c) - difference;
        const { gauge } = byRule(p, ambient, t, c);
        if (gauge !== null) gauges++;
        const ours = byCode(p, ambient, t, c).gauge;
        expect(ours === null ? null : BigInt(ours)).toBe(gauge);
      }),
      { numRuns: 5000 },
    );
    expect(gauges).toBeGreaterThan(1000);
  });

  it("never meets an integer of 2^53 or more, at any corner of the value space", () => {
    const watch = new Watch();
    const ends = (record: typeof block, ids: string[]) =>
      ids.reduce<number[][]>(
        (rows, id) => rows.flatMap((row) => [...boundsOf(record, id), 0].map((value) => [...row, value])),
        [[]],
      );
    const names = ["offset", "gain", "temperature_effect", "gain_temperature", "curvature", "reference_temperature"];
    for (const [offset, gain, temperatureEffect, gainTemperature, curvature, referenceTemperature] of ends(
      block,
      names,
    )) {
      const c = { offset, gain, temperatureEffect, gainTemperature, curvature, referenceTemperature } as Coefficients;
      for (const t of boundsOf(frame, "temperature")) {
        for (const difference of [-GAUGE_LIMIT, GAUGE_LIMIT]) {
          const p = boundsOf(frame, "pressure")[1];
          byRule(p, calibratedAbsolute(p, t, c) - difference, t, c, watch);
        }
      }
    }
    // A difference at the limit usually makes `linear` leave it, so the last two steps are met at the limit itself.
    const limit = BigInt(GAUGE_LIMIT);
    const square = watch.divide(limit * limit, 16_384n);
    watch.divide(square * BigInt(boundsOf(block, "curvature")[0]) * 2n, 15_625_000n);
    expect(watch.largest).toBeLessThan(2n ** 53n);
    expect(watch.largest).toBeGreaterThan(2n ** 45n);
  });

  /**
   * The units of the specification put into the physical formula, without any rounding on the way: what the rule's
   * constants (50, 10^8, 2^20, 16384, 15 625 000) must come to. Offset and pressure 1/128 Pa, temperature 0.01 °C,
   * effect 1/64 Pa/K, gain 2^-20, its temperature term 10^-6/K, curvature 10^-9/Pa.
   */
  it("follows the physical formula to within what its roundings can add up to", () => {
    let judged = 0;
    const small = fc.integer({ min: -600_000, max: 600_000 });
    fc.assert(
      fc.property(pressure, small, temperature, coefficients, (p, difference, t, c) => {
        const kelvin = t === null ? 0 : (t - c.referenceTemperature) / 100;
        const absolutePa = p / 128 + c.offset / 128 - kelvin * (c.temperatureEffect / 64);
        const absolute = calibratedAbsolute(p, t, c);
        expect(Math.abs(absolute - absolutePa * 128)).toBeLessThanOrEqual(0.5 + 1e-6);

        const gauge = calibratedGauge(absolute, absolute - difference, t, c);
        const gain = (c.gain / 2 ** 20) * (1 + kelvin * c.gainTemperature * 1e-6);
        const linearPa = (difference / 128) * gain;
        if (Math.abs(linearPa) > 39_999 || gauge === null) return;
        judged++;
        const gaugePa = linearPa * (1 + linearPa * c.curvature * 1e-9);
        const linearError = Math.abs(difference) / 2 ** 21 + 0.5;
        const slope = 1 + (2 * Math.abs(linearPa) + 1) * Math.abs(c.curvature) * 1e-9;
        const bound = linearError * slope + (0.5 * Math.abs(c.curvature) * 2) / 15_625_000 + 0.5 + 1e-6;
        expect(Math.abs(gauge - gaugePa * 128)).toBeLessThanOrEqual(bound);
      }),
      { numRuns: 3000 },
    );
    expect(judged).toBeGreaterThan(1000);
  });
});

const plain: Coefficients = {
  offset: 0,
  gain: 1_048_576,
  temperatureEffect: 0,
  gainTemperature: 0,
  curvature: 0,
  referenceTemperature: 3000,
};

describe("one coefficient at a time, worked by hand", () => {
  it("nothing to correct leaves the difference as it is", () => {
    expect(byCode(13_481_600, 12_969_600, 3652, plain)).toEqual({ absolute: 13_481_600, gauge: 512_000 });
  });

  it("offset: −100 Pa is −12 800 steps", () => {
    expect(calibratedAbsolute(12_969_600, 3652, { ...plain, offset: -12_800 })).toBe(12_956_800);
  });

  it("temperature: 340 Pa/K (21 760/64) over 6.52 K is 2216.8 Pa, 283 750.4 steps, taken away", () => {
    expect(calibratedAbsolute(12_969_600, 3652, { ...plain, temperatureEffect: 21_760 })).toBe(12_969_600 - 283_750);
  });

  it("gain: 1.25 of 4000 Pa is 5000 Pa", () => {
    expect(calibratedGauge(13_481_600, 12_969_600, 3652, { ...plain, gain: 1_310_720 })).toBe(640_000);
  });

  it("gain over temperature: 2000·10⁻⁶/K over 10 K adds 2 % of 4000 Pa", () => {
    const c = { ...plain, gainTemperature: 2000 };
    // 2 % of 2^20 is 20 971.52, rounded to 20 972; 512 000 · 1 069 548 / 2^20 = 522 240.2.
    expect(calibratedGauge(13_481_600, 12_969_600, 4000, c)).toBe(522_240);
  });

  it("curvature: 10 000·10⁻⁹/Pa of 4000 Pa adds 4 %", () => {
    expect(calibratedGauge(13_481_600, 12_969_600, 3652, { ...plain, curvature: 10_000 })).toBe(532_480);
  });

  it("without a temperature both temperature terms are left out", () => {
    const c = { ...plain, temperatureEffect: 21_760, gainTemperature: 2000 };
    expect(byCode(13_481_600, 12_969_600, null, c)).toEqual({ absolute: 13_481_600, gauge: 512_000 });
  });

  it("beyond 40 kPa there is no gauge pressure, at it there is", () => {
    expect(calibratedGauge(13_000_000, 13_000_000 - GAUGE_LIMIT, 3000, plain)).toBe(GAUGE_LIMIT);
    expect(calibratedGauge(13_000_000, 13_000_000 - GAUGE_LIMIT - 1, 3000, plain)).toBeNull();
    expect(calibratedGauge(13_000_000, 13_000_000 + GAUGE_LIMIT, 3000, plain)).toBe(-GAUGE_LIMIT);
    expect(calibratedGauge(13_000_000, 13_000_000 + GAUGE_LIMIT + 1, 3000, plain)).toBeNull();
    expect(calibratedGauge(13_000_000, 13_000_000 - GAUGE_LIMIT, 3000, { ...plain, gain: 1_048_577 })).toBeNull();
  });
});

describe("divideRounded", () => {
  it.each([
    [7, 2, 4],
    [-7, 2, -4],
    [5, 10, 1],
    [-5, 10, -1],
    [4, 10, 0],
    [14, 10, 1],
    [15, 10, 2],
    [0, 3, 0],
  ])("%i / %i is %i", (n, d, quotient) => {
    expect(divideRounded(n, d)).toBe(quotient);
  });

  it("never gives a negative zero", () => {
    expect(Object.is(divideRounded(-4, 10), 0)).toBe(true);
    expect(Object.is(divideRounded(-0, 10), 0)).toBe(true);
  });

  it("is exact as far as it says", () => {
    const n = fc.integer({ min: -(2 ** 52), max: 2 ** 52 });
    const d = fc.integer({ min: 1, max: 2 ** 31 });
    fc.assert(
      fc.property(n, d, (top, bottom) => {
        expect(BigInt(divideRounded(top, bottom))).toBe(nearest(BigInt(top), BigInt(bottom)));
      }),
    );
  });
});
