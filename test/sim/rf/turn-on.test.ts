import { describe, expect, it } from "vitest";
import { dbOf } from "../../../sim/rf/decibel.ts";
import { backscatterDbm, crossSectionDbsm, forwardRangeM, type Link, turnOnDbm } from "../../../sim/rf/link.ts";
import { isTextFault } from "../../../sim/rf/text-fault.ts";
import { compareTurnOn, evaluateTurnOn, type TurnOnSetup } from "../../../sim/rf/turn-on.ts";
import { parseTurnOnTable } from "../../../sim/rf/turn-on-table.ts";

const exact = (db: number) => ({ db, standardDb: 0 });
const setup: TurnOnSetup = {
  cableLoss: exact(1),
  antennaGain: exact(6),
  polarisationLoss: exact(3.01),
  excessLoss: exact(0.4),
  chipTurnOn: exact(-8),
  readerStandardDb: 0,
  stepDb: 0,
  distanceStandardM: 0,
};
const link: Link = {
  conductedDbm: 27,
  cableLossDb: 1,
  antennaGainDbi: 6,
  polarisationLossDb: 3.01,
  excessLossDb: 0.4,
  tagGainDbi: -12,
  reflectionDifference: 0.6,
};
const HZ = 866.5e6;
const row = {
  line: 2,
  frequencyHz: HZ,
  readerDbm: turnOnDbm(link, HZ, 0.6, 0.7, -8),
  distanceM: 0.6,
  backscatterDbm: backscatterDbm({ ...link, conductedDbm: turnOnDbm(link, HZ, 0.6, 0.7, -8) }, HZ, 0.6),
};

describe("a row made with the link budget gives back what it was made with", () => {
  const result = evaluateTurnOn(row, setup, 35);
  it("realised gain", () => expect(result.realisedGainDbi).toBeCloseTo(-12 + dbOf(0.7), 9));
  it("range at the limit", () => {
    expect(result.rangeM).toBeCloseTo(forwardRangeM({ ...link, conductedDbm: 30 }, HZ, 0.7, -8), 9);
  });
  it("cross-section", () => expect(result.crossSectionDbsm).toBeCloseTo(crossSectionDbsm(-12, 0.6, HZ), 9));
  it("no cross-section without backscatter", () => {
    expect(evaluateTurnOn({ ...row, backscatterDbm: null }, setup, 35).crossSectionDbsm).toBeNull();
  });
});

describe("uncertainty", () => {
  it("adds as squares: 0.3, 0.4 and 1.2 dB are 1.3 dB, twice that expanded", () => {
    const bent = {
      ...setup,
      readerStandardDb: 0.3,
      antennaGain: { db: 6, standardDb: 0.4 },
      cableLoss: { db: 1, standardDb: 1.2 },
    };
    const { realisedGainExpandedDb, rangeM, rangeExpandedM } = evaluateTurnOn(row, bent, 35);
    expect(realisedGainExpandedDb).toBeCloseTo(2.6, 9);
    // 20 dB a factor of ten of distance: 1.3 dB are 1.3 ln 10 / 20 of it.
    expect(rangeExpandedM / rangeM).toBeCloseTo((2 * 1.3 * Math.LN10) / 20, 9);
  });

  it.each([
    ["polarisationLoss", { db: 3.01, standardDb: 1 }],
    ["excessLoss", { db: 0.4, standardDb: 1 }],
    ["chipTurnOn", { db: -8, standardDb: 1 }],
  ] as const)("%s counts for the gain and not for the range", (part, level) => {
    const { realisedGainExpandedDb, rangeExpandedM } = evaluateTurnOn(row, { ...setup, [part]: level }, 35);
    expect(realisedGainExpandedDb).toBeCloseTo(2, 9);
    expect(rangeExpandedM).toBe(0);
  });

  it("of the distance is 20 log10 of it", () => {
    const { realisedGainExpandedDb } = evaluateTurnOn(row, { ...setup, distanceStandardM: 0.006 }, 35);
    expect(realisedGainExpandedDb).toBeCloseTo((2 * 20 * 0.01) / Math.LN10, 9);
  });

  it("of a ramp's step: the middle of the step, and the step over the root of twelve", () => {
    const { eirpDbm, realisedGainExpandedDb } = evaluateTurnOn(row, { ...setup, stepDb: 1 }, 35);
    expect(eirpDbm).toBeCloseTo(row.readerDbm + 5 - 0.5, 9);
    expect(realisedGainExpandedDb).toBeCloseTo(2 / Math.sqrt(12), 9);
  });
});

describe("comparison", () => {
  const results = [0, 1, 2].map((db) =>
    evaluateTurnOn(
      { ...row, frequencyHz: HZ + db, readerDbm: row.readerDbm - db },
      { ...setup, readerStandardDb: 0.6 },
      35,
    ),
  );
  it("mean, standard deviation, and rows beyond their uncertainty", () => {
    const comparison = compareTurnOn(results, () => -12 + dbOf(0.7))!;
    expect(comparison.meanDb).toBeCloseTo(1, 6);
    expect(comparison.spreadDb).toBeCloseTo(1, 6);
    expect([comparison.outside, comparison.rows]).toEqual([1, 3]);
  });
  it("leaves out what the model does not know", () => {
    expect(compareTurnOn(results, (hz) => (hz > HZ ? null : -12))!.rows).toBe(1);
    expect(compareTurnOn(results, () => null)).toBeNull();
  });
});

describe("the table", () => {
  const head = "frequency_mhz,reader_power_dbm,distance_m,backscatter_dbm\n";

  it("columns in any order, others passed over, comments, an empty backscatter", () => {
    const text =
      "# x\r\ndistance_m, note ,reader_power_dbm,backscatter_dbm,frequency_mhz\r\n0.5,a,20,,865\r\n0.5,b,21.5,-50,866\r\n";
    expect(parseTurnOnTable(text)).toEqual({
      faults: [],
      rows: [
        { line: 3, frequencyHz: 865e6, readerDbm: 20, distanceM: 0.5, backscatterDbm: null },
        { line: 4, frequencyHz: 866e6, readerDbm: 21.5, distanceM: 0.5, backscatterDbm: -50 },
      ],
    });
  });

  it("without the column of backscatter", () => {
    const table = parseTurnOnTable("frequency_mhz,reader_power_dbm,distance_m\n865,20,0.5\n");
    expect(table).toMatchObject({ rows: [{ backscatterDbm: null }] });
  });

  it.each([
    ["", 1, "columns", "empty"],
    [head, 2, "rows", "ends behind"],
    ["frequency_mhz,distance_m\n865,1\n", 1, "reader_power_dbm", "missing"],
    ["frequency,reader_power_dbm,distance_m\n865,1,1\n", 1, "frequency_mhz", '"frequency" does not say its unit'],
    ["frequency_mhz,reader_power_dbm,distance_m,distance_m\n865,1,1,1\n", 1, "distance_m", "stands twice"],
    [`${head}865,x,1,\n`, 2, "reader_power_dbm", '"x" is no number'],
  ])("%j is refused", (text, line, field, says) => {
    expect(parseTurnOnTable(text)).toEqual({ line, field, says: expect.stringContaining(says) });
  });

  it.each([
    ["866,20,0.5", "row", "3 cells for 4 columns"],
    ["866,,0.5,", "reader_power_dbm", "nothing there"],
    ["866,20 dBm,0.5,", "reader_power_dbm", "no number"],
    ["866,20,0.5,loud", "backscatter_dbm", "no number"],
    ["866,20,0,", "distance_m", "must be above 0"],
    ["-866,20,1,", "frequency_mhz", "must be above 0"],
    ["865,20,1,", "frequency_mhz", "does not rise above that of line 2"],
    ["864,20,1,", "frequency_mhz", "does not rise above that of line 2"],
  ])("%j is left out and the rest goes on", (bad, field, says) => {
    const table = parseTurnOnTable(`${head}865,20,0.5,\n${bad}\n867,20,0.5,\n`);
    if (isTextFault(table)) throw new Error(table.says);
    expect(table.faults).toEqual([{ line: 3, field, says: expect.stringContaining(says) }]);
    expect(table.rows.map(({ line }) => line)).toEqual([2, 4]);
  });
});
