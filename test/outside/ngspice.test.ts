/** The supply's waveforms against ngspice (Debian), another program that knows nothing of closed forms: within 0.5 %. */
import { describe, expect, it } from "vitest";
import { SupplyCircuit } from "../../sim/power/circuit.ts";
import { transient, voltageAt } from "../support/ngspice.ts";
import { needs } from "../support/outside.ts";
import { spiceSupply, storeLines } from "../support/spice-supply.ts";

const OFF = Number.NEGATIVE_INFINITY;
const WITHIN = 0.005;

function expectWithin(found: number, expected: number): void {
  expect(Math.abs(found / expected - 1), `${found} against ${expected}`).toBeLessThan(WITHIN);
}

needs("ngspice", () => {
  describe("against ngspice", () => {
    it("charges", () => {
      const points = transient(storeLines(0.5, 0.5e-3), "n1", 1e-4, 0.5);
      const circuit = new SupplyCircuit(spiceSupply, 0.5);
      for (let i = 1; i <= 50; i++) {
        circuit.run(0, 0, 0.01);
        expectWithin(circuit.nodeV(0, 0), voltageAt(points, i * 0.01));
      }
    });

    it("discharges into a constant current", () => {
      const points = transient([...storeLines(2.4, 0), "I2 n1 0 100u"], "n1", 1e-4, 0.6);
      const circuit = new SupplyCircuit(spiceSupply, 2.4, true);
      for (let i = 1; i <= 60; i++) {
        circuit.run(OFF, 100e-6, 0.01);
        expectWithin(circuit.nodeV(OFF, 100e-6), voltageAt(points, i * 0.01));
      }
    });

    it("switches a load on and off with hysteresis", () => {
      // The switch enables the load instead of carrying it: 2.4 V on, 1.7 V off.
      const load = [
        "V3 one 0 1",
        "S1 one enable n1 0 SUP OFF",
        ".model SUP SW(VT=2.05 VH=0.35 RON=1 ROFF=1g)",
        "R3 enable 0 1k",
        "B2 n1 0 I=1m*v(enable)",
      ];
      const points = transient([...storeLines(1.5, 0.5e-3), ...load], "enable", 2e-5, 1);
      const theirs = points.flatMap(([t, v], i) => {
        const before = points[i - 1]?.[1] ?? 0;
        return before < 0.5 !== v < 0.5 ? [t] : [];
      });
      const circuit = new SupplyCircuit(spiceSupply, 1.5);
      const ours: number[] = [];
      for (let nowS = 0; nowS < 1; ) {
        const on = circuit.on;
        nowS += circuit.run(0, 1e-3, 1 - nowS);
        if (circuit.on !== on) ours.push(nowS);
      }
      expect(theirs.length).toBeGreaterThan(3);
      expect(ours.length).toBe(theirs.length);
      ours.forEach((timeS, i) => {
        expectWithin(timeS, theirs[i]!);
      });
    });

    it("feeds a pulsed load such as conversions are", () => {
      const pulses = "I2 n1 0 PULSE(2u 700u 50m 1n 1n 9m 100m)";
      const points = transient([...storeLines(2.3, 0.2e-3), pulses], "n1", 1e-4, 1);
      const circuit = new SupplyCircuit(spiceSupply, 2.3, true);
      // 0.2 mW into the store.
      const chipDbm = 10 * Math.log10(0.4);
      for (let i = 0; i < 10; i++) {
        for (const [currentA, seconds, atS] of [
          [2e-6, 0.05, 0.0499],
          [700e-6, 0.009, 0.0589],
          [2e-6, 0.041, 0.0999],
        ] as const) {
          circuit.run(chipDbm, currentA, seconds - 1e-4);
          expectWithin(circuit.nodeV(chipDbm, currentA), voltageAt(points, i * 0.1 + atS));
          circuit.run(chipDbm, currentA, 1e-4);
        }
      }
    });
  });
});
