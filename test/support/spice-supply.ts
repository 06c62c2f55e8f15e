/** One supply twice: as a design of ours and as element lines for ngspice. */
import type { SupplyDesign } from "../../sim/power/store.ts";

/** What the supervisor draws. */
const OWN_A = 5e-6;

/** 100 uF with 20 ohm in series and 1 megohm across, 5 uA of its own, on at 2.4 V and off at 1.7 V, half of what comes in. */
export const spiceSupply: SupplyDesign = {
  rectifier: [{ powerDbm: 0, efficiency: 0.5 }],
  store: { capacitanceF: 100e-6, leakageOhm: 1e6, esrOhm: 20, clampV: 5, derating: [] },
  coldStart: { voltageV: 0.3, powerDbm: -60, share: 1 },
  supervisor: { onV: 2.4, offV: 1.7, currentA: OWN_A },
  regulator: { quiescentA: 0, dropoutV: 0, minimumRailV: 0.1 },
};

/** The store of it, charged to `startV`, fed with `powerW` of direct current power. */
export function storeLines(startV: number, powerW: number): string[] {
  return [
    `C1 inside 0 100u IC=${startV}`,
    "R1 n1 inside 20",
    "R2 n1 0 1meg",
    `I1 n1 0 ${OWN_A}`,
    // Without a capacitor of its own the node would have no voltage to begin with.
    `C2 n1 0 1n IC=${startV}`,
    `B1 0 n1 I=${powerW}/max(v(n1),0.05)`,
  ];
}
