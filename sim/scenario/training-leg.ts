/**
 * A training leg at a bandaging class, all of it invented: no person, no product, no measurement stands behind a figure.
 * EPCs: SGTIN-96 of GTIN 09506000134352, the example of GS1's Tag Data Standard, with invented serials.
 * Orders of magnitude: relaxation by 23.5 % at 4 h, steady after about 90 min (J Wound Manag 2023;24(3):87); static
 * stiffness index of a stiff bandage 10 mmHg or more, sensor noise 0.2 to 2 Pa rms, turn-on power of a tag that feeds a
 * microcontroller -6 to -15 dBm, 30 to 35 °C under a bandage (all four from memory).
 */
import type { CellTruth, LoadStory, Scenario, TagScenario } from "./scenario.ts";

const relaxation = { relaxationShare: 0.235, relaxationTimeConstantS: 1800 } as const;
const warming = { startC: 22.5, riseK: 9.5, timeConstantS: 240 } as const;
const bench = {
  method: "bench_with_temperature",
  dateDays: 2190,
  temperatureLowC: 18,
  temperatureHighC: 42,
  spanHpa: 133,
  reuseSince: 0,
  reuseLimit: 20,
} as const;

const load = (restingMmHg: number, standingRiseMmHg: number, gaitAmplitudeMmHg: number): LoadStory => ({
  restingMmHg,
  standingRiseMmHg,
  gaitAmplitudeMmHg,
  gaitHz: 0.95,
  ...relaxation,
});

const cell = (share: number, temperatureEffectPaPerK: number, offsetPa: number, driftPa: number): CellTruth => ({
  share,
  sharePerKelvin: 4e-4,
  stiffeningPerPa: 6e-7,
  temperatureEffectPaPerK,
  offsetPa,
  driftPa,
  noisePaRms: 0.8,
  referenceC: 25,
});

const tags: readonly TagScenario[] = [
  {
    epc: "3066c4409047e14000004b01",
    chipSerial: 0x00a1_0000_4b01,
    sensorSerial: 40_001,
    accessPassword: 0x6c65_6701,
    site: "B1",
    layer: 1,
    load: load(45, 18, 11),
    warming,
    cell: cell(0.93, 6.5, 118, 14),
    calibration: { ...bench, expandedUncertaintyPa: 48 },
    coupling: {
      gainDb: -29,
      fading: [{ amplitudeDb: 0.8, periodS: 9.1, phaseRad: 0.4 }],
      walkingLossDb: 1.5,
      turnOnDbm: -9,
    },
    storeF: 100e-6,
    reuseCycles: 1,
  },
  {
    epc: "3066c4409047e14000004b02",
    chipSerial: 0x00a1_0000_4b02,
    sensorSerial: 40_002,
    accessPassword: 0x6c65_6702,
    site: "B",
    layer: 1,
    load: load(40, 12, 7),
    warming: { ...warming, riseK: 8.2 },
    cell: cell(0.91, 9.25, -64, -11),
    calibration: { ...bench, expandedUncertaintyPa: 48 },
    coupling: {
      gainDb: -30.5,
      fading: [{ amplitudeDb: 1, periodS: 7.7, phaseRad: 2.1 }],
      walkingLossDb: 1.5,
      turnOnDbm: -9,
    },
    storeF: 100e-6,
    reuseCycles: 1,
  },
  {
    epc: "3066c4409047e14000004b03",
    chipSerial: 0x00a1_0000_4b03,
    sensorSerial: 40_003,
    accessPassword: 0x6c65_6703,
    site: "C",
    layer: 2,
    load: load(32, 14, 9),
    warming: { ...warming, riseK: 7.4 },
    cell: cell(0.88, 4.75, 205, 18),
    calibration: { ...bench, expandedUncertaintyPa: 60 },
    coupling: {
      gainDb: -28,
      fading: [{ amplitudeDb: 0.7, periodS: 11.3, phaseRad: 4.4 }],
      walkingLossDb: 1,
      turnOnDbm: -9,
    },
    storeF: 100e-6,
    reuseCycles: 4,
  },
  {
    epc: "3066c4409047e14000004b04",
    chipSerial: 0x00a1_0000_4b04,
    sensorSerial: 40_004,
    accessPassword: 0x6c65_6704,
    site: "below the knee",
    layer: 2,
    load: load(25, 8, 5),
    warming: { ...warming, riseK: 7 },
    cell: cell(0.86, 11.5, -151, -16),
    calibration: { ...bench, method: "bench_multi_point", expandedUncertaintyPa: 80, reuseSince: 1 },
    // Weakly coupled and with a small store: a tag that is now and then without power is the rule, not the exception.
    coupling: {
      gainDb: -37.2,
      fading: [
        { amplitudeDb: 1.7, periodS: 6.9, phaseRad: 1.2 },
        { amplitudeDb: 1.1, periodS: 0.83, phaseRad: 0 },
      ],
      walkingLossDb: 1,
      turnOnDbm: -8,
    },
    storeF: 22e-6,
    reuseCycles: 11,
  },
];

export const trainingLeg: Scenario = {
  name: "training-leg",
  title: "Four tags under a bandaged training leg: resting, standing up, walking, resting (invented)",
  seed: 7,
  phases: [
    { fromS: 0, posture: "resting" },
    { fromS: 15, posture: "standing" },
    { fromS: 25, posture: "walking" },
    { fromS: 45, posture: "resting" },
  ],
  wornBeforeS: 180,
  weather: { basePa: 100_820, slopePaPerHour: -110, swingPa: 160, swingPeriodHours: 5 },
  barometer: { offsetPa: 5, expandedUncertaintyPa: 12, noisePaRms: 0.6, temperatureC: 22.5 },
  tags,
};

/** The same leg, and a fifth tag beside it: the ambient pressure by a tag outside the dressing. */
export const trainingLegOutside: Scenario = {
  ...trainingLeg,
  name: "training-leg-outside",
  title: "The same leg and a fifth tag lying beside it, outside the dressing (invented)",
  tags: [
    ...tags,
    {
      epc: "3066c4409047e14000004b05",
      chipSerial: 0x00a1_0000_4b05,
      sensorSerial: 40_005,
      accessPassword: 0x6c65_6705,
      site: "outside the dressing",
      layer: null,
      load: null,
      warming: { startC: 22.5, riseK: 0, timeConstantS: 1 },
      cell: cell(0.92, 5.5, 77, 9),
      calibration: { ...bench, expandedUncertaintyPa: 40 },
      coupling: { gainDb: -27, fading: [], walkingLossDb: 0, turnOnDbm: -9 },
      storeF: 100e-6,
      reuseCycles: 0,
    },
  ],
};
