import { describe, expect, it } from "vitest";
import { SupplyCircuit } from "../../../sim/power/circuit.ts";
import { Rectifier } from "../../../sim/power/rectifier.ts";
import { bandsOf, type SupplyDesign } from "../../../sim/power/store.ts";
import { design } from "./design.ts";

/** Nothing but a capacitor of 100 uF behind a rectifier of one half: 0 dBm is half a milliwatt. */
const plain: SupplyDesign = {
  ...design.supply,
  store: { ...design.supply.store, leakageOhm: Number.POSITIVE_INFINITY, esrOhm: 0 },
  coldStart: { voltageV: 0, powerDbm: -60, share: 1 },
  supervisor: { onV: 2.4, offV: 1.7, currentA: 0 },
  regulator: { quiescentA: 0, dropoutV: 0, minimumRailV: 0.1 },
};
const OFF = Number.NEGATIVE_INFINITY;

describe("the supply circuit", () => {
  it("switches on when ½CV² has come in and off when C·ΔV has gone out", () => {
    const circuit = new SupplyCircuit(plain);
    // 288 uJ at 0.5 mW.
    expect(circuit.run(0, 0, 10)).toBeCloseTo(0.576, 9);
    expect(circuit.on).toBe(true);
    // 70 uC at 0.1 mA.
    expect(circuit.run(OFF, 100e-6, 10)).toBeCloseTo(0.7, 9);
    expect(circuit.on).toBe(false);
    // 100 uF from 1.7 V to 2.4 V: 143.5 uJ.
    expect(circuit.run(0, 100e-6, 10)).toBeCloseTo(0.287, 9);
  });

  it("takes the same way in one run and in a thousand", () => {
    const [once, often] = [new SupplyCircuit(design.supply, 1), new SupplyCircuit(design.supply, 1)];
    once.run(-3, 0, 0.5);
    for (let i = 0; i < 1000; i++) often.run(-3, 0, 0.0005);
    expect(often.insideV).toBeCloseTo(once.insideV, 10);
  });

  it("loses the load at the rail's minimum when that comes before the supervisor", () => {
    const dropping = { ...plain, regulator: { quiescentA: 0, dropoutV: 0.2, minimumRailV: 1.8 } };
    const circuit = new SupplyCircuit(dropping, 2.4, true);
    expect(circuit.run(OFF, 100e-6, 10)).toBeCloseTo(0.4, 9);
  });

  it("crawls through the cold start, and does not leave 0 V below its power", () => {
    const cold = { ...plain, coldStart: { voltageV: 1, powerDbm: -10, share: 0.25 } };
    // 50 uJ at an eighth of a milliwatt, then 238 uJ at half a milliwatt.
    expect(new SupplyCircuit(cold).run(0, 0, 10)).toBeCloseTo(0.4 + 0.476, 9);
    const weak = new SupplyCircuit(cold);
    weak.run(-10.1, 0, 1e6);
    expect(weak.insideV).toBe(0);
  });

  it("stands at the clamp, and leaves it when more goes out than comes in", () => {
    const circuit = new SupplyCircuit(plain, 3.3, true);
    expect(circuit.run(0, 1e-6, 5)).toBe(5);
    expect(circuit.insideV).toBe(3.3);
    circuit.run(OFF, 1e-3, 0.01);
    expect(circuit.insideV).toBeCloseTo(3.2, 12);
  });

  it("stands where the charger starts when its own need is more than it brings there", () => {
    const circuit = new SupplyCircuit({
      ...plain,
      coldStart: { voltageV: 1, powerDbm: -60, share: 1 },
      supervisor: { onV: 2.4, offV: 1.7, currentA: 1e-3 },
    });
    // Half a milliwatt at 1 V is half a milliampere, and the supervisor wants a whole one.
    expect(circuit.run(0, 0, 1000)).toBe(1000);
    expect(circuit.insideV).toBe(1);
  });

  it("drops the node by the series resistance and loses the load early by as much", () => {
    const circuit = new SupplyCircuit({ ...plain, store: { ...plain.store, esrOhm: 100 } }, 2.4, true);
    expect(circuit.nodeV(OFF, 1e-3)).toBeCloseTo(2.3, 12);
    // 100 uF from 2.3 V to 1.7 V at 1 mA.
    expect(circuit.run(OFF, 1e-3, 10)).toBeCloseTo(0.06, 9);
    const low = new SupplyCircuit({ ...plain, store: { ...plain.store, esrOhm: 100 } }, 1.75, true);
    expect([low.run(OFF, 1e-3, 10), low.on]).toEqual([0, false]);
  });

  it("gives the charge that is under the derating curve", () => {
    const derating = [
      { biasV: 0, share: 1 },
      { biasV: 3, share: 0.4 },
    ];
    const derated = { ...plain, store: { ...plain.store, derating } };
    const circuit = new SupplyCircuit(derated, 2.4, true);
    // The share falls by 0.2 a volt: 0.52 at 2.4 V and 0.66 at 1.7 V, 0.59 in the middle of 0.7 V: 41.3 uC.
    expect(circuit.run(OFF, 100e-6, 10)).toBeCloseTo(0.413, 6);
    expect(bandsOf(derated).at(-1)!.toV).toBe(3.3);
  });
});

describe("the rectifier", () => {
  const table = [
    { powerDbm: -10, efficiency: 0.4 },
    { powerDbm: -20, efficiency: 0.2 },
  ];

  it("interpolates in dBm whatever the order, and keeps the last value beyond the ends", () => {
    const rectifier = new Rectifier(table);
    expect(rectifier.efficiency(-15, 1)).toBeCloseTo(0.3, 12);
    expect([rectifier.efficiency(-40, 1), rectifier.efficiency(0, 1)]).toEqual([0.2, 0.4]);
  });

  it("interpolates in volt where the table has voltages", () => {
    const rectifier = new Rectifier([
      ...table.map((point) => ({ ...point, storeV: 1 })),
      ...table.map(({ powerDbm, efficiency }) => ({ powerDbm, efficiency: efficiency / 2, storeV: 3 })),
    ]);
    expect(rectifier.efficiency(-10, 2)).toBeCloseTo(0.3, 12);
    expect([rectifier.efficiency(-10, 0), rectifier.efficiency(-10, 5)]).toEqual([0.4, 0.2]);
  });
});
