/** How fast a tag's life on its supply is simulated, and how fast ngspice is on the same circuit. Run: npm run bench:power. */
import { SupplyCircuit } from "../../sim/power/circuit.ts";
import { classTag } from "../../sim/power/class-tag.ts";
import { live } from "../../sim/power/life.ts";
import { transient } from "../support/ngspice.ts";
import { spiceSupply, storeLines } from "../support/spice-supply.ts";

const HOUR_S = 3600;
const SPICE_S = 60;
const ROUNDS = 5;

/** Shortest of some rounds, in seconds: what else the machine does only ever adds. */
function shortest(work: () => void): number {
  const times = Array.from({ length: ROUNDS }, () => {
    const from = performance.now();
    work();
    return (performance.now() - from) / 1000;
  });
  return Math.min(...times);
}

const tag = { ...classTag, field: { ...classTag.field, powerDbm: 0 } };
let frames = 0;
let events = 0;
const hourS = shortest(() => {
  ({ frames, events } = live(tag, { untilS: HOUR_S }));
});
console.log(`an hour of tag life, 10 samples/s: ${hourS.toFixed(2)} s, ${frames} frames, ${events} events`);
console.log(`simulated seconds per second: ${Math.round(HOUR_S / hourS)}`);

// The same circuit for both: 0.2 mW in, 9 ms at 700 uA ten times a second. Steps of ngspice at most 1 ms, nine to a pulse.
const chipDbm = 10 * Math.log10(0.4);
const oursS = shortest(() => {
  const circuit = new SupplyCircuit(spiceSupply, 2.3, true);
  for (let i = 0; i < SPICE_S * 10; i++) {
    circuit.run(chipDbm, 2e-6, 0.05);
    circuit.run(chipDbm, 700e-6, 0.009);
    circuit.run(chipDbm, 2e-6, 0.041);
  }
});
const lines = [...storeLines(2.3, 0.2e-3), "I2 n1 0 PULSE(2u 700u 50m 1n 1n 9m 100m)"];
const theirsS = shortest(() => {
  transient(lines, "n1", 1e-3, SPICE_S);
});
const rate = (seconds: number) => Math.round(SPICE_S / seconds);
console.log(`pulsed load for ${SPICE_S} s: ${rate(oursS)} simulated seconds per second, ngspice ${rate(theirsS)}`);
console.log(`ratio: ${Math.round(theirsS / oursS)}`);
