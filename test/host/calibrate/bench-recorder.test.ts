/** Recording step by step, with a scripted person and a scripted tag. */
import { describe, expect, it } from "vitest";
import {
  BenchRecorder,
  type RecordedRow,
  recordedColumns,
  recordedLine,
} from "../../../host/calibrate/bench-recorder.ts";
import { parseBenchRun } from "../../../host/calibrate/bench-run.ts";
import { parseSteps, StepsError, usualSteps } from "../../../host/calibrate/bench-steps.ts";
import { judgeStability } from "../../../host/calibrate/stability.ts";
import { ReadingStream } from "../../../host/readings/reading-stream.ts";
import { layout } from "../../../protocol/index.ts";
import { calibration, counters, EMPTY_SLOT, frame, header, wordsOf } from "../readings/tag-words.ts";
import { asColumnsSay } from "./settings.ts";

const limits = { readings: 5, spanS: 1, changePa: 5, scatterPa: 5 };

describe("stability", () => {
  const held = (pressures: readonly number[]) => pressures.map((pressurePa, i) => ({ timeS: i * 0.25, pressurePa }));

  it("is a flat line of enough readings over enough time", () => {
    expect(judgeStability(held([100, 101, 100, 99, 100]), limits)).toMatchObject({ stable: true, count: 5 });
  });

  it.each([
    ["too few", [100, 100, 100, 100]],
    ["a trend", [100, 103, 106, 109, 112]],
    ["scatter", [100, 120, 95, 118, 100]],
    ["nothing", []],
  ])("is not %s", (_, pressures) => expect(judgeStability(held(pressures), limits).stable).toBe(false));

  it("looks at the last readings only, as many as the time takes", () => {
    const settled = held([500, 300, ...new Array<number>(9).fill(100)]);
    expect(judgeStability(settled, { ...limits, spanS: 2 })).toMatchObject({ stable: true, count: 9 });
  });
});

/** A tag that reports four frames a second; `loads` gives the pressure above ambient at a time. */
function scene(
  loads: (timeS: number) => number,
  answers: readonly string[],
  steps = "reference_hpa,direction\n0,up\n50,up\n",
) {
  const stream = new ReadingStream(
    layout,
    { started: "2026-03-04T09:00:00.000Z", barometerUncertaintyPa: 12 },
    { kind: "kit_barometer" },
  );
  const rows: RecordedRow[] = [];
  const said: string[] = [];
  const waiting = [...answers];
  const recorder = new BenchRecorder({
    steps: parseSteps(steps),
    limits,
    patienceS: 5,
    operator: { tell: (line) => said.push(line), answer: async () => waiting.shift() ?? null },
    onRow: (row) => rows.push(row),
  });
  stream.push({ kind: "ambient", kitTimeUs: 0, pressureRaw: 101_000 * 128, temperatureC: null });
  const words = (sequence: number, pressure: number) =>
    wordsOf(header(), frame({ sequence, pressure }), [...EMPTY_SLOT], counters());
  const report = (timeS: number, word: number, content: number[]) =>
    stream.push({
      kind: "read",
      kitTimeUs: Math.round(timeS * 1e6),
      epc: "30340123",
      pc: 0,
      xpc: 0,
      rssiDbm: null,
      frequencyKhz: 866_300,
      result: "done",
      bank: "user",
      word,
      words: content,
    });
  report(0, 40, wordsOf(calibration(), calibration()));
  const live = async () => {
    for (let i = 1; i < 400; i++) {
      const timeS = i * 0.25;
      const raw = Math.round((101_000 + loads(timeS)) * 128);
      // A reader sees the same frame again before the next one: a repeat is no further reading.
      const seen = [timeS, timeS + 0.1].flatMap((at) => report(at, 0, words(i, raw)));
      for (const outcome of seen) if (outcome.kind === "reading") recorder.push(outcome);
      await new Promise((done) => setImmediate(done));
    }
    recorder.end();
  };
  return { run: () => Promise.all([recorder.run(), live()]).then(([result]) => result), rows, said };
}

describe("a run", () => {
  it("waits until each load has settled and keeps the settled readings only", async () => {
    const { run, rows, said } = scene((t) => (t < 5 ? 4000 * Math.exp(-t / 0.5) : 0), ["", "50.4"]);
    expect(await run()).toEqual({ taken: 2, skipped: 0, unsettled: 0, stopped: false });
    expect(new Set(rows.map(({ step }) => step))).toEqual(new Set([1, 2]));
    expect(
      rows.filter(({ step }) => step === 1).every(({ sensorRaw }) => Math.abs(sensorRaw / 128 - 101_000) < 20),
    ).toBe(true);
    expect(rows.at(-1)!.load).toBe(50.4);
    expect(rows.every(({ timeS }) => timeS % 0.25 === 0)).toBe(true);
    expect(said[0]).toMatch(/^step 1 of 2: apply 0 hPa \(up, cycle 1\)/);
    expect(said.some((line) => /^step 1 of 2: settled, 5 readings, change \d\.\d Pa/.test(line))).toBe(true);
  });

  it("asks about a load that does not settle: taken as it is, or skipped", async () => {
    const never = (t: number) => 1000 * t;
    const { run, said } = scene(never, ["", "w", "t", "", "maybe", "s"]);
    expect(await run()).toEqual({ taken: 1, skipped: 1, unsettled: 1, stopped: false });
    expect(said.filter((line) => line.includes("not settled after 5 s"))).toHaveLength(3);
    expect(said).toContain('"maybe" is none of w, t, s, q');
  });

  it("stops when nobody answers any more, and when the reader is gone", async () => {
    expect(await scene(() => 0, [""]).run()).toMatchObject({ taken: 1, stopped: true });
    expect(await scene((t) => 1000 * t, ["", "w", "w", "w", ...new Array<string>(50).fill("w")]).run()).toMatchObject({
      taken: 0,
      stopped: true,
    });
  });

  it("keeps a hold as rows of its own", async () => {
    const { run, rows } = scene(() => 0, [""], "reference_hpa,hold_s\n0,4\n");
    await run();
    const hold = rows.filter(({ direction }) => direction === "hold");
    expect(hold.length).toBeGreaterThanOrEqual(3);
    expect(hold.at(-1)!.timeS - rows[0]!.timeS).toBeGreaterThanOrEqual(4);
  });

  it("is read again as it was recorded", async () => {
    const { run, rows } = scene(() => 0, ["", "50"]);
    await run();
    const read = parseBenchRun([recordedColumns("reference_hpa"), ...rows.map(recordedLine)].join("\n"), asColumnsSay);
    expect(read.findings).toEqual([]);
    expect(read.rows).toHaveLength(rows.length);
    expect(read.rows.at(-1)).toMatchObject({ referencePa: 5000, ambientPa: 101_000, step: 2 });
  });
});

describe("steps", () => {
  it("usually go to 100 mmHg and back three times", () => {
    expect(usualSteps().steps).toHaveLength(33);
  });

  it.each([
    ["", "no steps"],
    ["reference_mmhg\n", "no steps"],
    ["cycle\n1\n", "1: one column of load, such as reference_mmhg, is needed"],
    ["reference_mmhg,colour\n1,red\n", "1: colour: a column that is not known"],
    ["reference_mmhg\n0\nfar\n", '3: reference_mmhg: "far" is no number'],
    ["reference_mmhg\n0\n900\n", "3: reference_mmhg: 900 cannot be; reference gauge pressure, -50 to 400 hPa"],
    ["reference_mmhg,direction\n0,hold\n", '2: direction: "hold" is neither up nor down'],
  ])("%j: %s", (text, sentence) => {
    expect(() => parseSteps(text)).toThrow(StepsError);
    expect(() => parseSteps(text)).toThrow(sentence);
  });
});
