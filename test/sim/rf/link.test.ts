import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dbmOf, dbOf } from "../../../sim/rf/decibel.ts";
import { exposureDistance, exposureLevels } from "../../../sim/rf/exposure.ts";
import {
  acceptedDbm,
  backscatterDbm,
  backscatterRangeM,
  chipPowerDbm,
  eirpDbm,
  forwardRangeM,
  type Link,
  pathGainDb,
  turnOnDbm,
} from "../../../sim/rf/link.ts";

const link: Link = {
  conductedDbm: 27,
  cableLossDb: 1.5,
  antennaGainDbi: 6,
  polarisationLossDb: 3,
  excessLossDb: 2.5,
  tagGainDbi: -12,
  reflectionDifference: 0.8,
};
const HZ = 866.5e6;

describe("the budget is one sum", () => {
  it("of every gain and loss", () => {
    expect(eirpDbm(link)).toBe(31.5);
    // -1.5 + 6 - 12 - 3 - 2.5 and 31.2032 dB over 1 m (computed elsewhere).
    expect(pathGainDb(link, HZ, 1)).toBeCloseTo(-13 - 31.2032, 4);
  });

  it("in which every term counts once on the way there and twice there and back", () => {
    for (const term of ["cableLossDb", "polarisationLossDb", "excessLossDb"] as const) {
      const more = { ...link, [term]: link[term] + 1 };
      expect(pathGainDb(more, HZ, 1)).toBeCloseTo(pathGainDb(link, HZ, 1) - 1, 9);
      expect(backscatterDbm(more, HZ, 1)).toBeCloseTo(backscatterDbm(link, HZ, 1) - 2, 9);
    }
    for (const term of ["antennaGainDbi", "tagGainDbi"] as const) {
      const more = { ...link, [term]: link[term] + 1 };
      expect(pathGainDb(more, HZ, 1)).toBeCloseTo(pathGainDb(link, HZ, 1) + 1, 9);
      expect(backscatterDbm(more, HZ, 1)).toBeCloseTo(backscatterDbm(link, HZ, 1) + 2, 9);
    }
  });
});

describe("distances", () => {
  it("at the range the chip just turns on, and the reader needs all its power", () => {
    const metres = forwardRangeM(link, HZ, 0.7, -8);
    expect(chipPowerDbm(link, HZ, metres, () => 0.7)).toBeCloseTo(-8, 7);
    expect(turnOnDbm(link, HZ, metres, 0.7, -8)).toBeCloseTo(27, 9);
  });

  it("at the backscatter range the reader just hears it", () => {
    const metres = backscatterRangeM(link, HZ, -75);
    expect(backscatterDbm(link, HZ, metres)).toBeCloseTo(-75, 9);
  });

  it("3 dB in gain are 29.2 % of distance and 4 dB 36.9 % (computed)", () => {
    const near = (db: number) =>
      1 - forwardRangeM({ ...link, tagGainDbi: -12 - db }, HZ, 1, -8) / forwardRangeM(link, HZ, 1, -8);
    expect(100 * near(3)).toBeCloseTo(29.2, 1);
    expect(100 * near(4)).toBeCloseTo(36.9, 1);
  });
});

describe("power into a chip whose impedance depends on it", () => {
  it("solves accepted = offered + tau(accepted)", () => {
    const offered = fc.double({ min: -30, max: 10, noNaN: true });
    fc.assert(
      fc.property(offered, fc.double({ min: 0.01, max: 1, noNaN: true }), (dbm, worst) => {
        const tauAt = (chipDbm: number) => worst + (1 - worst) / (1 + Math.exp(chipDbm + 10));
        const accepted = acceptedDbm(dbm, tauAt);
        expect(accepted).toBeCloseTo(dbm + dbOf(tauAt(accepted)), 6);
      }),
    );
  });

  it("takes the lowest answer: a rising field reaches it first", () => {
    // A chip that matches well only once it has -5 dBm: 0 dBm offered could feed it either way.
    const tauAt = (chipDbm: number) => (chipDbm > -5 ? 1 : 0.1);
    expect(acceptedDbm(0, tauAt)).toBeCloseTo(-10, 6);
    expect(acceptedDbm(6, tauAt)).toBeCloseTo(6, 6);
  });

  it("is nothing to speak of without a match", () => expect(acceptedDbm(0, () => 0)).toBe(-60));
});

describe("exposure distance", () => {
  const [level] = exposureLevels;
  it("is used only in the far field of the antenna", () => {
    // 0.246 m for 2 W ERP; an antenna of 20 cm is far from 0.231 m on, one of 25 cm from 0.361 m on (computed).
    expect(exposureDistance(level!, 3.28, 1, 866e6, 0.2).usable).toBe(true);
    expect(exposureDistance(level!, 3.28, 1, 866e6, 0.25).usable).toBe(false);
  });
  it("shrinks with the root of the duty", () => {
    const of = (duty: number) => exposureDistance(level!, 3.28, duty, 866e6, 0.2).distanceM;
    expect(of(0.25)).toBeCloseTo(of(1) / 2, 12);
  });
  it("milliwatt and dBm", () => expect(dbmOf(3.28)).toBeCloseTo(35.159, 3));
});
