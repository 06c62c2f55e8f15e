/** A bench run guided from a page: the steps, the light that says whether a load has settled, and the fit as points come in. */
import {
  BenchRecorder,
  type Question,
  type RecordedRow,
  recordedColumns,
  recordedHeading,
  recordedLine,
} from "../calibrate/bench-recorder.ts";
import type { BenchStep } from "../calibrate/bench-steps.ts";
import { judgeStability, usualLimits } from "../calibrate/stability.ts";
import { toPascal } from "../readings/pressure.ts";
import type { Reading } from "../readings/reading.ts";
import { type GuidedFit, guidedFit } from "./guided-fit.ts";
import type { CalibrationPhase, CalibrationState, ErrorCode, ErrorMessage, StabilityJudgement } from "./messages.ts";
import type { CalibrateRequest } from "./requests.ts";

const COLUMN = "reference_mmhg";
const COMMAND = "plyframe calibrate fit run.csv --out certificate.json";

/** Session time after which a load that does not settle is asked about. */
const PATIENCE_S = 60;

/** Readings the light looks back on. */
const LOOK_BACK = 200;

type StartRequest = Extract<CalibrateRequest, { readonly action: "start" }>;

/** One run, from its start to the page's leave to forget it. */
interface Run {
  readonly epc: string;
  readonly steps: readonly BenchStep[];
  readonly recorder: BenchRecorder;
  readonly heading: readonly string[];
  readonly rows: RecordedRow[];
  /** Steps taken although they had not settled. */
  readonly unsettled: Set<number>;
  readings: Reading[];
  question: Question | null;
  answer: ((line: string | null) => void) | null;
  step: number;
  over: boolean;
}

export class Guide {
  /** Called with every change; at most once a tick while readings come. */
  onState: (state: CalibrationState) => void = () => undefined;
  readonly #software: string;
  readonly #latest = new Map<string, Reading>();
  #run: Run | null = null;
  #page: number | null = null;
  #fit: GuidedFit & { readonly rows: number } = { rows: 0, points: [], fit: null };
  #news = false;

  /** `software`: program and version, as certificates name it. */
  constructor(software: string) {
    this.#software = software;
  }

  /** A reading with its session time, which does not go back when a reader's clock does. */
  reading(reading: Reading, timeS: number): void {
    const timed = { ...reading, kitTimeUs: timeS * 1e6 };
    this.#latest.set(reading.epc, timed);
    const run = this.#run;
    if (!run || run.over || run.epc !== reading.epc) return;
    if (reading.quality.includes("repeated") || reading.absolute === null || reading.ambient === null) return;
    run.readings = [...run.readings, timed].slice(-LOOK_BACK);
    run.recorder.push(timed);
    this.#news = true;
  }

  /** To be called now and then: what readings changed is told. */
  tick(): void {
    if (!this.#news) return;
    this.#tell();
  }

  request(page: number, request: CalibrateRequest): ErrorMessage | null {
    if (this.#page !== null && this.#page !== page) {
      return refusal("calibration_elsewhere", "another page guides a calibration");
    }
    if (request.action === "start") return this.#start(page, request);
    const run = this.#run;
    if (!run) return refusal("calibration_not_now", "no calibration is under way");
    this.#page = page;
    if (request.action === "clear") {
      if (!run.over) return refusal("calibration_not_now", "the calibration is not over");
      this.#run = null;
      this.#page = null;
      this.#tell();
      return null;
    }
    if (request.action === "stop") {
      if (run.answer) this.#answer(run, null);
      else run.recorder.end();
      return null;
    }
    const line = run.answer && answerOf(request, run.question!);
    if (line === null) return refusal("calibration_not_now", `${request.action} does not answer what is asked now`);
    if (request.action === "take") run.unsettled.add(run.step);
    this.#answer(run, line);
    return null;
  }

  /** The page that guides may be gone for good: another may go on. */
  left(page: number): void {
    if (this.#page !== page) return;
    this.#page = null;
    if (this.#run?.over) this.#run = null;
    this.#tell();
  }

  state(): CalibrationState {
    const run = this.#run;
    const { points, fit } = this.#fitted(run);
    const step = run?.over ? undefined : run?.steps[run.step - 1];
    return {
      type: "calibration",
      phase: phaseOf(run),
      epc: run?.epc ?? null,
      page: this.#page,
      step:
        run && step
          ? {
              number: run.step,
              of: run.steps.length,
              cycle: step.cycle,
              direction: step.direction,
              load_mmhg: step.value,
            }
          : null,
      stability: run && step ? stabilityOf(run.readings) : null,
      points,
      fit,
      csv: run?.over ? csvOf(run) : null,
      command: COMMAND,
    };
  }

  #start(
    page: number,
    { epc, loads_mmhg: loads, cycles, reference_uncertainty_pa }: StartRequest,
  ): ErrorMessage | null {
    if (this.#run && !this.#run.over) return refusal("calibration_not_now", "a calibration is under way already");
    const first = this.#latest.get(epc);
    if (!first?.header || !first.ambient) {
      return refusal("tag_unknown", `${epc} was not read with its header and an ambient pressure`);
    }
    const steps = stepsOf(loads, cycles);
    const started = new Date().toISOString();
    const heading = recordedHeading(first, started, first.ambient.expandedUncertaintyPa);
    if (reference_uncertainty_pa !== null) heading.push(`# reference_uncertainty_pa: ${reference_uncertainty_pa}`);
    const rows: RecordedRow[] = [];
    const recorder = new BenchRecorder({
      steps: { column: COLUMN, steps },
      limits: usualLimits,
      patienceS: PATIENCE_S,
      operator: {
        tell: () => undefined,
        answer: (question) => this.#ask(question),
      },
      onRow: (row) => rows.push(row),
    });
    const run: Run = {
      epc,
      steps,
      recorder,
      heading,
      rows,
      unsettled: new Set(),
      readings: [],
      question: null,
      answer: null,
      step: 1,
      over: false,
    };
    this.#run = run;
    this.#page = page;
    void recorder.run().then(() => {
      run.over = true;
      run.answer = null;
      this.#tell();
    });
    return null;
  }

  #ask(question: Question): Promise<string | null> {
    const run = this.#run!;
    run.question = question;
    run.step = question.step;
    return new Promise((answer) => {
      run.answer = answer;
      this.#tell();
    });
  }

  #answer(run: Run, line: string | null): void {
    const { answer } = run;
    run.answer = null;
    // What was read before the load was applied says nothing of it.
    if (run.question?.asks === "load") run.readings = [];
    answer?.(line);
    this.#tell();
  }

  #tell(): void {
    this.#news = false;
    this.onState(this.state());
  }

  /** Points and fit of the rows so far, computed once for each point. */
  #fitted(run: Run | null): GuidedFit {
    const rows = run?.rows.length ?? 0;
    if (!run || rows === 0) return { points: [], fit: null };
    if (this.#fit.rows !== rows) this.#fit = { rows, ...guidedFit(csvOf(run), run.unsettled, this.#software) };
    return this.#fit;
  }
}

/** Up through the loads and down again, without the highest twice, in every cycle. */
function stepsOf(loads: readonly number[], cycles: number): BenchStep[] {
  const step = (cycle: number, direction: "up" | "down") => (value: number) => ({ cycle, direction, value, holdS: 0 });
  return Array.from({ length: cycles }, (_, i) => i + 1).flatMap((cycle) => [
    ...loads.map(step(cycle, "up")),
    ...loads.slice(0, -1).reverse().map(step(cycle, "down")),
  ]);
}

/** What a request answers, and the line that answers it to the recorder. */
function answerOf(request: Exclude<CalibrateRequest, StartRequest>, asked: Question): string | null {
  const byLoad = { applied: "", skip: "s" } as const;
  const byDecision = { wait: "w", take: "t", skip: "s" } as const;
  if (asked.asks === "load") {
    if (request.action === "applied" && request.load_mmhg !== null) return String(request.load_mmhg);
    return byLoad[request.action as keyof typeof byLoad] ?? null;
  }
  return byDecision[request.action as keyof typeof byDecision] ?? null;
}

function phaseOf(run: Run | null): CalibrationPhase {
  if (!run) return "idle";
  if (run.over) return "done";
  if (!run.answer) return "settling";
  return run.question!.asks === "load" ? "apply" : "unsettled";
}

function stabilityOf(readings: readonly Reading[]): StabilityJudgement {
  const timed = readings.map(({ kitTimeUs, raw, ambient }) => ({
    timeS: kitTimeUs / 1e6,
    pressurePa: raw.pressure / 128 - toPascal(ambient!.pressure),
  }));
  const { stable, count, changePa, scatterPa } = judgeStability(timed, usualLimits);
  return {
    stable,
    count,
    least_count: usualLimits.readings,
    change_pa: changePa,
    scatter_pa: scatterPa,
    change_limit_pa: usualLimits.changePa,
    scatter_limit_pa: usualLimits.scatterPa,
  };
}

function csvOf({ heading, rows }: Run): string {
  return `${[...heading, recordedColumns(COLUMN), ...rows.map(recordedLine)].join("\n")}\n`;
}

function refusal(code: ErrorCode, sentence: string): ErrorMessage {
  return { type: "error", code, sentence };
}
