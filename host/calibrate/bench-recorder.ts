/** Records a bench run from a reader, step by step: says what to apply, waits until it has settled, keeps the readings. */

import { toPascal } from "../readings/pressure.ts";
import { qualities } from "../readings/quality.ts";
import type { Reading } from "../readings/reading.ts";
import { type BenchStep, type BenchSteps, loadText } from "./bench-steps.ts";
import { judgeStability, type Stability, type StabilityLimits } from "./stability.ts";

/** One line of the run's CSV, in the order of `recordedColumns`. */
export interface RecordedRow {
  readonly timeS: number;
  readonly cycle: number;
  readonly direction: "up" | "down" | "hold";
  readonly step: number;
  readonly load: number;
  readonly sensorRaw: number;
  readonly temperatureC: number | null;
  readonly ambientRaw: number;
}

export function recordedColumns(loadColumn: string): string {
  return `time_s,cycle,direction,step,${loadColumn},sensor_raw,temperature_cel,ambient_raw`;
}

/** Lines about the whole run that stand above the columns: what the tag's first reading and the reader say. */
export function recordedHeading(
  { epc, header, counters }: Reading,
  started: string,
  barometerUncertaintyPa: number | null,
): string[] {
  return [
    `# date: ${started.slice(0, 10)}`,
    `# epc: ${epc}`,
    `# sensor_serial: ${header!.sensorSerial}`,
    ...(counters ? [`# reuse_count: ${counters.reuseCycles}`] : []),
    ...(barometerUncertaintyPa === null ? [] : [`# ambient_uncertainty_pa: ${barometerUncertaintyPa}`]),
  ];
}

export function recordedLine(row: RecordedRow): string {
  const { timeS, cycle, direction, step, load, sensorRaw, temperatureC, ambientRaw } = row;
  return [timeS.toFixed(3), cycle, direction, step, load, sensorRaw, temperatureC ?? "", ambientRaw].join(",");
}

/** What is asked: the load of a step, or what to do with one that does not settle. Steps count from 1. */
export interface Question {
  readonly asks: "load" | "decision";
  readonly step: number;
}

/** The person, or the file of answers, at the other end. */
export interface Operator {
  tell(line: string): void;
  /** One line of answer; null when no more will come. */
  answer(question: Question): Promise<string | null>;
}

export interface RecorderOptions {
  readonly steps: BenchSteps;
  readonly limits: StabilityLimits;
  /** Kit time after which a load that does not settle is asked about. */
  readonly patienceS: number;
  readonly operator: Operator;
  readonly onRow: (row: RecordedRow) => void;
}

export interface RecordedRun {
  readonly taken: number;
  readonly skipped: number;
  readonly unsettled: number;
  /** The answers ended, or somebody stopped, before the last step. */
  readonly stopped: boolean;
}

/** Feed it readings with `push` and run it with `run`; `end` makes it stop when the reader is gone. */
export class BenchRecorder {
  readonly #options: RecorderOptions;
  #readings: Reading[] = [];
  /** Readings that the last judgement looked at. */
  #window: readonly Reading[] = [];
  #wake: () => void = () => undefined;
  #ended = false;

  constructor(options: RecorderOptions) {
    this.#options = options;
  }

  /** A reading of the tag. Repeats, frames of unknown age and readings without pressure or ambient are not used. */
  push(reading: Reading): void {
    const { quality } = reading;
    const strange = quality.includes("repeated") || quality.includes("first_sight");
    const invalid = quality.some((id) => qualities[id].severity === "invalid");
    if (strange || invalid || reading.absolute === null || reading.ambient === null) return;
    this.#readings.push(reading);
    this.#wake();
  }

  end(): void {
    this.#ended = true;
    this.#wake();
  }

  async run(): Promise<RecordedRun> {
    const { steps, operator } = this.#options;
    const counts = { taken: 0, skipped: 0, unsettled: 0 };
    for (const [index, step] of steps.steps.entries()) {
      const name = `step ${index + 1} of ${steps.steps.length}`;
      const load = loadText(steps.column, step.value);
      operator.tell(
        `${name}: apply ${load} (${step.direction}, cycle ${step.cycle}); Enter when it is, the value read when it is another, s to skip, q to stop`,
      );
      const applied = await this.#applied(step, index + 1);
      if (applied === "stop") return { ...counts, stopped: true };
      if (applied === "skip") {
        counts.skipped++;
        continue;
      }
      const how = await this.#settle(name, index + 1);
      if (how === "stop") return { ...counts, stopped: true };
      if (how === "skip") {
        counts.skipped++;
        continue;
      }
      counts.taken++;
      if (how === "taken anyway") counts.unsettled++;
      this.#keep(step, index + 1, applied);
      if (step.holdS > 0) await this.#hold(step, index + 1, applied);
    }
    return { ...counts, stopped: this.#ended };
  }

  async #applied(step: BenchStep, number: number): Promise<number | "skip" | "stop"> {
    const { operator } = this.#options;
    for (;;) {
      const answer = (await operator.answer({ asks: "load", step: number }))?.trim().toLowerCase();
      if (answer === undefined || answer === "q") return "stop";
      if (answer === "") return step.value;
      if (answer === "s") return "skip";
      if (Number.isFinite(Number(answer))) return Number(answer);
      operator.tell(`"${answer}" is no number; Enter, a number, s or q`);
    }
  }

  async #settle(name: string, number: number): Promise<"settled" | "taken anyway" | "skip" | "stop"> {
    const { operator, limits, patienceS } = this.#options;
    this.#readings = [];
    let patientUntilUs: number | null = null;
    for (;;) {
      await this.#next();
      if (this.#ended) return "stop";
      const nowUs = this.#readings.at(-1)!.kitTimeUs;
      patientUntilUs ??= nowUs + patienceS * 1e6;
      const stability = judgeStability(this.#readings.map(timed), limits);
      this.#window = this.#readings.slice(-stability.count);
      if (stability.stable) {
        operator.tell(`${name}: settled, ${stabilityText(stability)}`);
        return "settled";
      }
      if (nowUs < patientUntilUs) continue;
      operator.tell(
        `${name}: not settled after ${patienceS} s, ${stabilityText(stability)}; w to wait, t to take it as it is, s to skip, q to stop`,
      );
      const answer = await this.#decision(number);
      if (answer === "t") return "taken anyway";
      if (answer === "s") return "skip";
      if (answer === "q") return "stop";
      patientUntilUs = null;
    }
  }

  async #decision(number: number): Promise<"w" | "t" | "s" | "q"> {
    const { operator } = this.#options;
    for (;;) {
      const answer = (await operator.answer({ asks: "decision", step: number }))?.trim().toLowerCase();
      if (answer === undefined || answer === "q") return "q";
      if (answer === "w" || answer === "t" || answer === "s") return answer;
      operator.tell(`"${answer}" is none of w, t, s, q`);
    }
  }

  #keep(step: BenchStep, number: number, load: number): void {
    for (const reading of this.#window) this.#row(reading, step, step.direction, number, load);
  }

  async #hold(step: BenchStep, number: number, load: number): Promise<void> {
    this.#options.operator.tell(`hold it for ${step.holdS} s`);
    const untilUs = this.#readings.at(-1)!.kitTimeUs + step.holdS * 1e6;
    let lastUs = this.#readings.at(-1)!.kitTimeUs;
    while (lastUs < untilUs) {
      this.#readings = [];
      await this.#next();
      if (this.#ended) return;
      const reading = this.#readings.at(-1)!;
      // A reading a second says all there is to say of a creep.
      if (reading.kitTimeUs - lastUs < 1e6) continue;
      lastUs = reading.kitTimeUs;
      this.#row(reading, step, "hold", number, load);
    }
  }

  #row(reading: Reading, { cycle }: BenchStep, direction: RecordedRow["direction"], step: number, load: number): void {
    this.#options.onRow({
      timeS: reading.kitTimeUs / 1e6,
      cycle,
      direction,
      step,
      load,
      sensorRaw: reading.raw.pressure,
      temperatureC: reading.temperatureC,
      ambientRaw: reading.ambient!.pressure,
    });
  }

  #next(): Promise<void> {
    if (this.#ended) return Promise.resolve();
    return new Promise((resolve) => {
      this.#wake = resolve;
    });
  }
}

function timed(reading: Reading) {
  return {
    timeS: reading.kitTimeUs / 1e6,
    pressurePa: reading.raw.pressure / 128 - toPascal(reading.ambient!.pressure),
  };
}

function stabilityText({ count, changePa, scatterPa }: Stability): string {
  if (changePa === null) return `${count} readings`;
  return `${count} readings, change ${changePa.toFixed(1)} Pa, scatter ${scatterPa!.toFixed(1)} Pa`;
}
