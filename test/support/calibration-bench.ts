/** An invented tag on a pressure bench, for the guided calibration of the bench page. */
import { setImmediate } from "node:timers/promises";
import { PASCAL_PER_MMHG } from "../../host/readings/pressure.ts";
import { ReadingStream } from "../../host/readings/reading-stream.ts";
import { BenchFeed } from "../../host/view/bench-feed.ts";
import { Guide } from "../../host/view/guide.ts";
import type { CalibrationState } from "../../host/view/messages.ts";
import { formatFingerprint, layout } from "../../protocol/index.ts";
import { EPC, frame, service } from "../host/readings/tag-words.ts";

const AMBIENT_PA = 101_000;

/** Of a frame; raw steps of pressure are 1/128 Pa, of temperature 1/100 °C (MEMORY-MAP.md). */
const PERIOD_S = 0.5;

export interface CalibrationBench {
  readonly feed: BenchFeed;
  state(): CalibrationState;
  /** So many frames under a load. `driftPa` is how much more it is from frame to frame. */
  hold(mmhg: number, frames: number, driftPa?: number): Promise<void>;
}

/** The cell gives 0.9 of the load, bends a little, and lags behind by 6 Pa on the way down. */
export function calibrationBench(session: string): CalibrationBench {
  const guide = new Guide("plyframe 0.1.0");
  let [timeS, sequence, lastMmhg, lagPa] = [0, 100, 0, 0];
  const feed = new BenchFeed(
    {
      program: "0.1.0",
      session,
      source: "simulated",
      source_name: "invented bench",
      scene: "One tag on a pressure bench (invented)",
      speed: 1,
      layout: layout.layout,
      fingerprint: formatFingerprint(layout.fingerprint),
      sites: [{ epc: EPC, site: "bench" }],
      roundsPerSecond: 1 / PERIOD_S,
    },
    guide,
    () => timeS * 1000,
  );
  const stream = new ReadingStream(layout, { started: null, barometerUncertaintyPa: 12 }, { kind: "kit_barometer" });
  const ambient = { kind: "ambient", kitTimeUs: 0, pressureRaw: AMBIENT_PA * 128, temperatureC: 23 } as const;
  stream.push(ambient);
  feed.began();
  feed.report(ambient);
  const hold = async (mmhg: number, frames: number, driftPa = 0) => {
    if (mmhg !== lastMmhg) lagPa = mmhg < lastMmhg ? 6 : 0;
    lastMmhg = mmhg;
    for (let i = 0; i < frames; i++) {
      timeS += PERIOD_S;
      sequence++;
      const loadPa = mmhg * PASCAL_PER_MMHG;
      const cellPa = 0.9 * loadPa - 6e-7 * loadPa ** 2 + lagPa + 2 + ((sequence * 7) % 5) / 2;
      const pressure = Math.round((AMBIENT_PA + cellPa + driftPa * i) * 128);
      const report = service({ a: frame({ sequence, pressure, temperature: 2950 }) }, { kitTimeUs: timeS * 1e6 });
      feed.report(report);
      for (const outcome of stream.push(report)) feed.outcome(outcome);
      await setImmediate();
      for (let tick = 0; tick < PERIOD_S * 20; tick++) feed.tick();
    }
  };
  return { feed, state: () => guide.state(), hold };
}

/** Takes so many points as a page would, and leaves the next load on its way. */
export async function guidedTo(points: number, bench: CalibrationBench, page: number): Promise<void> {
  const start = { loads_mmhg: [0, 20, 40, 60, 80], cycles: 2, reference_uncertainty_pa: 8 };
  bench.feed.request(page, { type: "calibrate", action: "start", epc: EPC, ...start });
  await setImmediate();
  for (let i = 0; i <= points; i++) {
    const load = bench.state().step!.load_mmhg;
    bench.feed.request(page, { type: "calibrate", action: "applied", load_mmhg: null });
    await setImmediate();
    if (i < points) await bench.hold(load, 8);
    else await bench.hold(load, 6, 9);
  }
}
