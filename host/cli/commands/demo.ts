/** `plyframe demo`: a simulated training leg through the whole path, as hardware would take it. */
import { readingJson } from "../../readings/reading-json.ts";
import { Board } from "../board.ts";
import { EXIT } from "../exit.ts";
import { introduction } from "../introduction.ts";
import { numberOption, seedOption } from "../number-option.ts";
import { runSession } from "../session.ts";
import { simulatedPort } from "../simulated-port.ts";
import type { Sites } from "../sites.ts";
import { countsSentence, Tally } from "../tally.ts";
import { note, say, sayJson } from "../terminal.ts";
import { scenarioOf } from "./kit.ts";

export interface DemoOptions {
  readonly seed: string;
  readonly speed: string;
  readonly capture: string;
  readonly overwrite?: boolean;
  readonly json?: boolean;
}

/** The demo's own file, which every demo writes anew. */
const DEMO_CAPTURE = "plyframe-demo.jsonl";

const SCENARIO = "training-leg";

/** The whole story of the scenario: resting, standing, walking, resting. */
const STORY_S = 60;

export async function demo(options: DemoOptions): Promise<void> {
  const seed = seedOption(options.seed);
  const speed = numberOption("--speed", options.speed, 0.1, 100);
  const scenario = scenarioOf(SCENARIO, seed);
  const sites: Sites = new Map(scenario.tags.map(({ epc, site }) => [epc, site]));
  const tell = options.json ? note : say;
  const board = options.json ? null : new Board(sites);
  const tally = new Tally();

  const kit = `kit --scenario ${SCENARIO} --seed ${seed} --speed ${speed}`;
  const result = await runSession({
    port: simulatedPort(kit),
    periodMs: 100,
    powerDbm: null,
    plan: null,
    ambient: { kind: "kit_barometer" },
    capture: {
      file: options.capture,
      source: `exec:plyframe ${kit}`,
      note: `${scenario.title}; simulated, seed ${seed}`,
    },
    linkLog: null,
    overwrite: options.overwrite === true || options.capture === DEMO_CAPTURE,
    forS: STORY_S,
    retryS: 0,
    onReady: () => {
      tell(`${scenario.title}. Every number is simulated.`);
      for (const line of introduction()) tell(line);
      tell("");
    },
    onTime: (kitTimeUs) => board?.tick(kitTimeUs),
    onOutcome: (outcome) => {
      tally.add(outcome);
      if (options.json) {
        if (outcome.kind !== "unread") sayJson(readingJson(outcome));
      } else if (outcome.kind === "reading") board!.add(outcome);
    },
  });
  tell("");
  for (const line of tally.lines(sites)) tell(line);
  tell(countsSentence(result.counts));
  tell(`The capture is in ${options.capture}; the same readings again: plyframe decode ${options.capture}`);
  if (result.lost !== null) {
    note(`plyframe: ${result.lost}`);
    process.exitCode = EXIT.device;
  }
}
