import { describe, expect, it } from "vitest";
import { Program, shippedModule } from "../../../sim/firmware/program.ts";
import { DutyCycle } from "../../../sim/power/duty-cycle.ts";
import { type LoadDesign, stintsOf } from "../../../sim/power/load.ts";
import { Random } from "../../../sim/random.ts";
import { design } from "./design.ts";

const { load } = design;
const WORDS = 112;

/** The firmware itself with the times of the load, on a supply that is a function of time: what it does when. */
function firmwareLife(given: LoadDesign, supplyMv: (nowS: number) => number, untilS: number): string[] {
  const memory = new Uint16Array(WORDS);
  const phases: string[] = [];
  let nowS = given.processor.bootS;
  const startS = nowS;
  let readyS = 0;
  const program: Program = new Program(shippedModule(), {
    nowMs: () => Math.floor((nowS - startS) * 1000 + 1e-6),
    sleepUntil: (ms) => {
      nowS = Math.max(nowS, startS + ms / 1000);
    },
    supplyMv: () => supplyMv(nowS),
    sensorStart: () => {
      // The phase's computing is over when its stints are: the conversion begins then.
      nowS += seconds("start_conversion");
      readyS = nowS + given.sensor.conversionS;
      return true;
    },
    sensorReady: () => nowS >= readyS,
    sensorRead: () => ({ pressure: 12_970_000, temperature: 3000 }),
    bridgeRead: (word, count) => memory.slice(word, word + count),
    bridgeWrite: (word, value) => {
      memory[word] = value;
      return true;
    },
    bridgeSettle: () => true,
  });
  const seconds = (phase: Parameters<typeof stintsOf>[1], traffic = true) =>
    stintsOf(given, phase, traffic).reduce((sum, stint) => sum + stint.seconds, 0);
  program.start();
  while (nowS < untilS) {
    const { phase } = program;
    const atS = nowS;
    // What the firmware finds out at its beginning, it finds at the time at which the stint begins.
    program.step();
    const next = program.phase;
    const counted = phase === "check_supply" && next === "commit_counters";
    if (phase !== "start_conversion") {
      // A sleep inside the phase came after its computing; the supply was looked at before it.
      const computing = seconds(phase, phase === "check_supply" ? counted : true);
      nowS = Math.max(nowS, atS + computing);
    }
    phases.push(`${phase} ${Math.round(atS * 1e6)}`);
  }
  return phases;
}

/** The same of the duty cycle: a stint of each phase begins where the phase does. */
function modelLife(given: LoadDesign, supplyMv: (nowS: number) => number, untilS: number): string[] {
  const duty = new DutyCycle(given);
  const phases: string[] = [];
  duty.start(0);
  let nowS = 0;
  let last = "";
  while (nowS < untilS) {
    const stint = duty.next(nowS, (supplyMv(nowS) + 0.5) / 1000);
    const idle = ["boot", "sleep", "conversion"].includes(stint.activity);
    if (!idle && stint.activity !== last) phases.push(`${stint.activity} ${Math.round(nowS * 1e6)}`);
    last = idle ? "" : stint.activity;
    nowS += stint.seconds;
  }
  return phases;
}

describe("the duty cycle", () => {
  it("does what the firmware does, phase by phase and to the microsecond, on a supply that comes and goes", () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const random = new Random(seed, "supply");
      const levels = Array.from(
        { length: 400 },
        () => [1700, 1850, 1990, 2000, 2100, 2299, 2300, 2600][Math.floor(random.fraction() * 8)]!,
      );
      // A level lasts for a quarter of a second; three quarters of the time there is enough.
      const supplyMv = (nowS: number) => (Math.floor(nowS * 4) % 4 === 3 ? levels[Math.floor(nowS * 4) % 400]! : 2600);
      const [was, is] = [firmwareLife, modelLife].map((life) => life(load, supplyMv, 60).slice(0, 1500));
      expect(was!.length).toBe(1500);
      expect(is).toEqual(was);
    }
  });

  it("waits twice for a slow conversion, and gives the sample up after that, as the firmware does", () => {
    for (const conversionS of [0.0095, 0.0104, 0.015, 0.025]) {
      const slow = { ...load, sensor: { ...load.sensor, conversionS } };
      const [was, is] = [firmwareLife, modelLife].map((life) => life(slow, () => 2600, 5).slice(0, 120));
      expect(is).toEqual(was);
      const duty = new DutyCycle(slow);
      duty.start(0);
      for (let nowS = 0; nowS < 2; ) nowS += duty.next(nowS, 2.6).seconds;
      expect(duty.frames > 0).toBe(conversionS < 0.02);
    }
  });

  it("remembers starts without a frame and waits for a full store after three", () => {
    const duty = new DutyCycle(load);
    const start = (untilPhase: string, supplyV: number) => {
      duty.start(0);
      const seen: string[] = [];
      for (let nowS = 0; nowS < 1 && seen.at(-1) !== untilPhase; ) {
        const stint = duty.next(nowS, supplyV);
        seen.push(stint.activity);
        nowS += stint.seconds;
      }
      return seen;
    };
    for (let i = 0; i < 3; i++) expect(start("conversion", 2.1)).toContain("commit_counters");
    expect(start("conversion", 2.1)).not.toContain("commit_counters");
    expect(start("commit_frame", 2.4)).toContain("commit_frame");
  });
});
