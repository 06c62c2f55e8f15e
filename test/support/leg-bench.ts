/** The recorded session of the training leg, played to a feed of the bench page as far as it is told to. */
import { createReadStream } from "node:fs";
import { setImmediate } from "node:timers/promises";
import { CaptureReader } from "../../host/capture/capture-reader.ts";
import { PresenceTable } from "../../host/cli/presence.ts";
import { shownPresence } from "../../host/cli/view/shown-presence.ts";
import type { AmbientReport, TagReport } from "../../host/reader/report.ts";
import { ReadingStream } from "../../host/readings/reading-stream.ts";
import { BenchFeed } from "../../host/view/bench-feed.ts";
import { Guide } from "../../host/view/guide.ts";
import { TICK_MS, type TimedReading } from "../../host/view/messages.ts";
import { formatFingerprint, layout } from "../../protocol/index.ts";
import { scenarios } from "../../sim/index.ts";

/** Resting, from 40 s standing, from 65 s walking, from 145 s resting; three minutes in all. */
const FILE = "vectors/examples/training-leg-session.jsonl";

/** Of the recording: one round in half a second. */
const PERIOD_MS = 500;

export const B1 = "3066c4409047e14000004b01";

export interface LegBench {
  readonly feed: BenchFeed;
  /** Plays on until that kit time, and tells the pages every tick of it; `heard` false: without the tags, of which nothing is read. */
  until(kitTimeS: number, heard?: boolean): Promise<void>;
  /** The latest reading of a tag, as pages are told it. */
  latest(epc: string): TimedReading["reading"];
}

/** `session` tells one session from another; `speed` is how fast pages let its time go on by themselves. */
export async function legBench(session: string, speed = 1): Promise<LegBench> {
  const scenario = scenarios["training-leg"]!;
  let kitTimeS = 0;
  const facts = {
    program: "0.1.0",
    session,
    source: "simulated",
    source_name: `plyframe kit --scenario ${scenario.name} --seed ${scenario.seed}`,
    scene: scenario.title,
    speed,
    layout: layout.layout,
    fingerprint: formatFingerprint(layout.fingerprint),
    sites: scenario.tags.map(({ epc, site }) => ({ epc, site })),
    roundsPerSecond: 1000 / PERIOD_MS,
  } as const;
  const feed = new BenchFeed(facts, new Guide("plyframe 0.1.0"), () => kitTimeS * 1000);
  const presence = new PresenceTable(PERIOD_MS);
  const reports: (TagReport | AmbientReport)[] = [];
  let readings: ReadingStream | null = null;
  for await (const item of new CaptureReader(createReadStream(FILE), FILE, layout)) {
    if ("header" in item) readings = new ReadingStream(layout, item.header, { kind: "kit_barometer" });
    else if ("report" in item) reports.push(item.report);
  }
  feed.began();
  let next = 0;
  const until = async (untilS: number, heard = true) => {
    while (kitTimeS < untilS) {
      kitTimeS = Math.min(untilS, kitTimeS + TICK_MS / 1000);
      for (; (reports[next]?.kitTimeUs ?? Infinity) <= kitTimeS * 1e6; next++) {
        if (!heard) continue;
        const report = reports[next]!;
        feed.report(report);
        if (report.kind === "read") presence.add(report);
        for (const outcome of readings!.push(report)) feed.outcome(outcome);
      }
      feed.present(shownPresence(presence.at(kitTimeS * 1e6)));
      feed.tick();
      // Lets go of what was said, so that no page falls behind.
      await setImmediate();
    }
  };
  const latest = (epc: string) => {
    const past = feed.greeting(0)[1];
    if (past?.type !== "past") throw new Error("no past");
    return past.latest.find(({ reading }) => reading.epc === epc)!.reading;
  };
  return { feed, until, latest };
}
