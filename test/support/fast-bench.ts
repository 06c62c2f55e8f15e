/** Sixteen tags at twenty readings a second each, for the bench page: the most it is meant for. Every number is invented. */
import type { Reading } from "../../host/readings/reading.ts";
import { ReadingStream } from "../../host/readings/reading-stream.ts";
import { BenchFeed } from "../../host/view/bench-feed.ts";
import { Guide } from "../../host/view/guide.ts";
import { layout } from "../../protocol/index.ts";
import { calibrations, frame, service } from "../host/readings/tag-words.ts";

export const TAGS = 16;
export const READINGS_A_SECOND = 20;

const STEP_S = 1 / READINGS_A_SECOND;

/** Frames of one walking cycle, read through the whole of the host's arithmetic once. */
function cycle(): Reading[] {
  const stream = new ReadingStream(
    layout,
    { started: "2026-03-04T09:00:00.000Z", barometerUncertaintyPa: 12 },
    { kind: "kit_barometer" },
  );
  stream.push({ kind: "ambient", kitTimeUs: 0, pressureRaw: 101_000 * 128, temperatureC: null });
  stream.push(calibrations());
  const outcomes = Array.from({ length: 40 }, (_, i) => {
    const pressure = Math.round((101_000 + 5500 + 1500 * Math.sin((2 * Math.PI * i) / 40)) * 128);
    return stream.push(service({ a: frame({ sequence: 200 + i, pressure }) }, { kitTimeUs: 1e6 + i * STEP_S * 1e6 }));
  });
  return outcomes.flat().filter((outcome): outcome is Reading => outcome.kind === "reading");
}

export interface FastBench {
  readonly feed: BenchFeed;
  /** One reading of every tag, told to the pages at once. */
  step(): void;
  readonly steps: number;
}

export function fastBench(session: string): FastBench {
  const readings = cycle();
  const sites = Array.from({ length: TAGS }, (_, i) => ({
    epc: `3034${i.toString(16).padStart(4, "0")}`,
    site: `S${i + 1}`,
  }));
  let steps = 0;
  const feed = new BenchFeed(
    {
      program: "0.1.0",
      session,
      source: "simulated",
      source_name: "invented",
      scene: "Sixteen tags at twenty readings a second (invented)",
      speed: 1,
      layout: layout.layout,
      fingerprint: "invented",
      sites,
      roundsPerSecond: READINGS_A_SECOND,
    },
    new Guide("plyframe 0.1.0"),
    () => steps * STEP_S * 1000,
  );
  feed.began();
  const step = () => {
    steps++;
    for (const [i, { epc }] of sites.entries()) {
      const reading = readings[(steps + 2 * i) % readings.length]!;
      feed.outcome({ ...reading, epc, sequence: steps % 65_536, kitTimeUs: steps * STEP_S * 1e6, ageS: 0 });
    }
    feed.tick();
  };
  return {
    feed,
    step,
    get steps() {
      return steps;
    },
  };
}
