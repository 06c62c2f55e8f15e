/** What the firmware costs on each emulated core, in instructions or cycles. */
import type { CostPhase, FirmwareCost, PortTraffic } from "../../../protocol/firmware/cost.ts";
import { buildImage, CONSOLE_WORDS, harness, runImage } from "./image.ts";
import { run, versionOf } from "./program.ts";
import type { SealTable, Target } from "./targets.ts";

/** Parts in the order of the harness's numbers: the encoder, the decoder, then `ply_phase`. */
export const costPhases: readonly CostPhase[] = [
  "frame_encode",
  "frame_decode",
  "cold_start",
  "check_supply",
  "start_conversion",
  "read_sensor",
  "seal_frame",
  "commit_frame",
  "commit_counters",
  "commit_burst",
];

/** Steps of the duty cycle that are counted: three frames, a burst, and the frame after it. */
const STEPS = 130;
/** A burst after every third frame, so that the run holds one. */
const OPTIONS = [`-DSTEPS=${STEPS}`, "-DPLY_BURST_EVERY=3"];

/** Readings of the clock: an empty pair, a hundred, the encoder, the decoder, the steps. */
const READINGS = 2 * (4 + STEPS);

interface Clock {
  readonly unit: FirmwareCost["unit"];
  /** Options of the emulator for an exact count. */
  readonly options: readonly string[];
  /** What the clock counts in one unit. */
  readonly perUnit: number;
  readonly source: string;
  readonly says: string;
}

/** QEMU lets 2^10 ns go by for an instruction; SysTick counts them at 16 MHz on one machine and 25 MHz on the other. */
const NS_PER_INSTRUCTION = 1024;
const counting = ["-icount", "shift=10"];

const clocks: Readonly<Record<Target["id"], Clock>> = {
  "cortex-m0": {
    unit: "instruction",
    options: counting,
    perUnit: NS_PER_INSTRUCTION * 16e-3,
    source: "arm/clock.c",
    says: "microbit -icount, SysTick",
  },
  "cortex-m3": {
    unit: "instruction",
    options: counting,
    perUnit: NS_PER_INSTRUCTION * 25e-3,
    source: "arm/clock.c",
    says: "mps2-an385 -icount, SysTick",
  },
  avr: { unit: "cycle", options: [], perUnit: 1, source: "avr/clock.c", says: "atmega1284p, timer 1" },
  msp430: { unit: "cycle", options: [], perUnit: 1, source: "msp430/clock.c", says: "sim, MCLK of the tracer" },
  rv32: {
    unit: "instruction",
    options: ["-icount", "shift=0"],
    perUnit: 1,
    source: "riscv/clock.c",
    says: "virt -icount, minstret",
  },
};

/** What made the figures of a target; with another version they may differ. */
function toolOf(target: Target): string {
  const runner = target.runner === "simavr" ? "simavr" : `${target.runner} ${versionOf(target.runner)}`;
  return `${target.compiler} ${versionOf(target.compiler)} -Os; ${runner}, ${clocks[target.id].says}`;
}

interface Part {
  readonly phase: CostPhase | "empty" | "hundred";
  readonly clock: number;
  readonly traffic: Omit<PortTraffic, "phase">;
}

/** The largest count seen of each part, and of what each asks of the port. */
export function measureCosts(target: Target, sealTable: SealTable): { cost: FirmwareCost; traffic: PortTraffic[] } {
  const clock = clocks[target.id];
  const parts =
    target.emulator === "mspdebug" ? tracedParts(target, sealTable) : printedParts(target, sealTable, clock);
  const of = (phase: Part["phase"]) => parts.filter((part) => part.phase === phase);
  const most = (values: readonly number[]) => values.reduce((a, b) => Math.max(a, b));
  const empty = of("empty")[0]!.clock;
  const count = (phase: Part["phase"]) =>
    Math.round((most(of(phase).map((part) => part.clock)) - empty) / clock.perUnit);
  if (count("hundred") !== 100) throw new Error(`${target.title}: the clock counts ${count("hundred")} for 100`);
  const counts = Object.fromEntries(costPhases.map((phase) => [phase, count(phase)])) as Record<CostPhase, number>;
  const traffic = costPhases.map((phase) => ({
    phase,
    wordsRead: most(of(phase).map((part) => part.traffic.wordsRead)),
    wordsWritten: most(of(phase).map((part) => part.traffic.wordsWritten)),
    settles: most(of(phase).map((part) => part.traffic.settles)),
  }));
  const { unit } = clock;
  return { cost: { target: target.id, unit, tool: toolOf(target), sealTable, counts }, traffic };
}

function partOf(line: string): Part {
  const [number, clock, wordsRead, wordsWritten, settles] = line
    .trim()
    .split(" ")
    .map((value) => Number.parseInt(value, 16));
  if (clock === 0xffffffff) throw new Error(`the clock went round: ${line}`);
  const phase = number === 0xff ? "empty" : number === 0xfe ? "hundred" : costPhases[number!]!;
  return { phase, clock: clock!, traffic: { wordsRead: wordsRead!, wordsWritten: wordsWritten!, settles: settles! } };
}

function sources(target: Target): string[] {
  const console = target.emulator === "qemu" ? ["stdout-console.c"] : [];
  return ["cost.c", "used-tag.c", "board.c", clocks[target.id].source, ...console].map(harness);
}

function printedParts(target: Target, sealTable: SealTable, clock: Clock): Part[] {
  const folder = buildImage(target, sources(target), sealTable, {}, OPTIONS);
  return runImage(target, folder, clock.options).map(partOf);
}

/** The MSP430 simulator stops at every reading of the clock, and its tracer tells the cycles so far. */
function tracedParts(target: Target, sealTable: SealTable): Part[] {
  const reading = ["run", "simio info tracer"];
  const commands = [
    "prog image",
    "simio add tracer tracer",
    "setbreak clock_now",
    ...Array.from({ length: READINGS }, () => reading).flat(),
    "delbreak",
    "setbreak console_done",
    "run",
    `md 0x1400 ${2 * CONSOLE_WORDS}`,
    "exit",
    "",
  ];
  const folder = buildImage(target, sources(target), sealTable, { "commands.txt": commands.join("\n") }, OPTIONS);
  const cycles = [...run(target.runner, target.runnerArgs, folder).stdout.matchAll(/MCLK:\s*(\d+)/g)].map(([, n]) =>
    Number(n),
  );
  if (cycles.length !== READINGS) throw new Error(`${cycles.length} readings of the clock, not ${READINGS}`);
  const parts = runImage(target, folder).map(partOf);
  return parts.map((part, i) => ({ ...part, clock: cycles[2 * i + 1]! - cycles[2 * i]! }));
}
