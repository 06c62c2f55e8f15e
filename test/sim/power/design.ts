/** A tag's design for tests: round figures, invented. */
import { firmwareCosts } from "../../../protocol/firmware/cost.ts";
import type { TagDesign } from "../../../sim/power/life.ts";

/** Efficiency of one half at every power, so that a test can work in its head. */
export const half = [{ powerDbm: 0, efficiency: 0.5 }];

export const design: TagDesign = {
  supply: {
    rectifier: half,
    store: { capacitanceF: 100e-6, leakageOhm: 20e6, esrOhm: 0.5, clampV: 3.3, derating: [] },
    coldStart: { voltageV: 0.6, powerDbm: -20, share: 0.3 },
    supervisor: { onV: 2.4, offV: 1.7, currentA: 0.3e-6 },
    regulator: { quiescentA: 0.5e-6, dropoutV: 0.05, minimumRailV: 1.62 },
  },
  load: {
    processor: {
      cost: firmwareCosts.find(({ target, sealTable }) => target === "msp430" && sealTable === 16)!,
      clockHz: 1e6,
      cyclesPerInstruction: 1,
      activeA: 120e-6,
      sleepA: 0.8e-6,
      bootS: 1e-3,
    },
    sensor: { conversionS: 8e-3, conversionA: 0.7e-3 },
    bridge: { readS: 40e-6, writeS: 100e-6, settleS: 100e-6, currentA: 0.3e-3 },
    firmware: {
      periodMs: 100,
      startMv: 2000,
      fullMv: 2300,
      lowMv: 1800,
      conversionMs: 10,
      fruitlessLimit: 3,
      countersEvery: 16,
      burstEvery: 100,
      burstIntervalMs: 40,
    },
  },
  field: {
    powerDbm: 0,
    dwellS: 4,
    hopS: 0,
    roundS: 0.1,
    replyS: 0,
    replyDepth: 0.5,
    handDb: 0,
    handPeriodS: 2,
  },
  startV: 0,
};
