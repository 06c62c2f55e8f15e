/**
 * An invented bench run: no tag, no bench and no measurement stands behind a figure. What the invented cell does is in
 * `truth`, so that a test can ask whether a fit finds it again. Run as a program it writes vectors/examples/bench-run.csv.
 */
import { writeFileSync } from "node:fs";
import { PASCAL_PER_MMHG } from "../../host/readings/pressure.ts";
import { Random } from "../../sim/random.ts";

/** In the terms of the compensation rule: a reading of these coefficients is the load, hysteresis and the like apart. */
export interface Truth {
  readonly offsetPa: number;
  readonly gain: number;
  readonly temperatureEffectPaPerK: number;
  readonly gainPerK: number;
  readonly curvaturePerPa: number;
  readonly referenceC: number;
  /** Half of the widest loop, at half the span. */
  readonly halfLoopPa: number;
  readonly noisePa: number;
  /** Of the applied pressure from step to step. */
  readonly settingPa: number;
  readonly creepPa: number;
}

export const truth: Truth = {
  offsetPa: -118,
  gain: 1.0753,
  temperatureEffectPaPerK: 6.5,
  gainPerK: -4e-4,
  curvaturePerPa: 6e-7,
  referenceC: 30,
  halfLoopPa: 9,
  noisePa: 1.2,
  settingPa: 1.5,
  creepPa: 11,
};

export interface Plan {
  readonly levelsMmhg: readonly number[];
  readonly temperaturesC: readonly number[];
  readonly cycles: number;
  /** Rows a step. */
  readonly readings: number;
  readonly hold: boolean;
}

export const plan: Plan = {
  levelsMmhg: [0, 20, 40, 60, 80, 100],
  temperaturesC: [20, 30, 40],
  cycles: 3,
  readings: 1,
  hold: true,
};

export interface InventedRow {
  readonly timeS: number;
  readonly cycle: number;
  readonly direction: string;
  readonly step: number;
  readonly referencePa: number;
  readonly sensorRaw: number;
  readonly temperatureC: number;
  readonly ambientRaw: number;
}

/** Rows of a run; the same seed gives the same rows. */
export function inventRows(seed: number, what: Truth = truth, how: Plan = plan): InventedRow[] {
  const random = new Random(seed, "bench run");
  const rows: InventedRow[] = [];
  const top = Math.max(...how.levelsMmhg) * PASCAL_PER_MMHG;
  let [timeS, cycle, step] = [0, 0, 0];
  const row = (direction: string, referencePa: number, plateauC: number, loopPa: number, creepPa: number) => {
    const temperatureC = Math.round((plateauC + 0.15 * random.noise()) * 100) / 100;
    const ambientPa = 101_140 + 35 * Math.sin(timeS / 9000);
    const kelvin = temperatureC - what.referenceC;
    const load = referencePa + loopPa + creepPa;
    const bend = 2 * what.curvaturePerPa;
    const linear = bend === 0 ? load : (Math.sqrt(1 + 2 * bend * load) - 1) / bend;
    const difference = linear / (what.gain * (1 + what.gainPerK * kelvin));
    const sensorPa =
      ambientPa + difference - what.offsetPa + what.temperatureEffectPaPerK * kelvin + what.noisePa * random.noise();
    rows.push({
      timeS,
      cycle,
      direction,
      step,
      referencePa,
      sensorRaw: Math.round(sensorPa * 128),
      temperatureC,
      ambientRaw: Math.round((ambientPa + 0.5 * random.noise()) * 128),
    });
  };
  for (const [plateau, plateauC] of how.temperaturesC.entries()) {
    for (let turn = 0; turn < how.cycles; turn++) {
      cycle++;
      const up = how.levelsMmhg.map((mmhg) => ({ mmhg, direction: "up" }));
      const down = how.levelsMmhg.map((mmhg) => ({ mmhg, direction: "down" })).reverse();
      for (const { mmhg, direction } of [...up, ...down.slice(1)]) {
        step++;
        const set = mmhg * PASCAL_PER_MMHG + (mmhg === 0 ? 0 : what.settingPa * random.noise());
        // References are written in 0.01 mmHg.
        const referencePa = (Math.round((set / PASCAL_PER_MMHG) * 100) / 100) * PASCAL_PER_MMHG;
        const share = top === 0 ? 0 : referencePa / top;
        const loop = (direction === "up" ? -1 : 1) * what.halfLoopPa * Math.sin(Math.PI * share);
        const left = direction === "down" && mmhg === 0 ? 2 : 0;
        for (let i = 0; i < how.readings; i++) {
          row(direction, referencePa, plateauC, loop + left, 0);
          timeS += how.readings > 1 ? 1 : 60;
        }
        const last = turn === how.cycles - 1 && direction === "up" && mmhg === 60;
        if (how.hold && last && plateau === 1) {
          for (let minute = 1; minute <= 10; minute++) {
            row("hold", referencePa, plateauC, loop, what.creepPa * (1 - Math.exp(-minute / 4)));
            timeS += 60;
          }
        }
      }
      timeS += 240;
    }
    timeS += 3600;
  }
  return rows;
}

export const HEADER = "time_s,cycle,direction,step,reference_mmhg,sensor_raw,temperature_cel,ambient_raw";

export function csvLine(row: InventedRow): string {
  const mmhg = (row.referencePa / PASCAL_PER_MMHG).toFixed(2);
  const { timeS, cycle, direction, step, sensorRaw, temperatureC, ambientRaw } = row;
  return [timeS, cycle, direction, step, mmhg, sensorRaw, temperatureC.toFixed(2), ambientRaw].join(",");
}

/** The run as a file; `notes` are the lines that say what the columns do not. */
export function inventCsv(rows: readonly InventedRow[], notes: readonly string[] = []): string {
  return `${[...notes, HEADER, ...rows.map(csvLine)].join("\n")}\n`;
}

export const exampleNotes = [
  "# note: invented: no tag, no bench and no measurement stands behind a figure",
  "# date: 2026-02-17",
  "# epc: 3066c4409047e14000004b01",
  "# sensor_serial: 40001",
  "# reference: water column (invented)",
  "# reference_uncertainty_pa: 8",
  "# ambient_uncertainty_pa: 10",
];

if (process.argv[1]?.endsWith("invented-bench-run.ts")) {
  const file = new URL("../../vectors/examples/bench-run.csv", import.meta.url);
  writeFileSync(file, inventCsv(inventRows(11), exampleNotes));
}
