/** What the firmware's phases draw and how long they take, from the instructions and cycles that were counted. */
import { type CostPhase, type FirmwareCost, portTraffic } from "../../protocol/firmware/cost.ts";

export interface ProcessorDesign {
  readonly cost: FirmwareCost;
  readonly clockHz: number;
  /** Clock cycles for an instruction, where instructions were counted; not used where cycles were. */
  readonly cyclesPerInstruction: number;
  readonly activeA: number;
  readonly sleepA: number;
  /** From the supply's coming to the first instruction, drawn at the active current. */
  readonly bootS: number;
}

export interface SensorDesign {
  readonly conversionS: number;
  readonly conversionA: number;
}

/** The way to the memory that the reader sees, one word at a time; the processor waits at its active current. */
export interface BridgeDesign {
  readonly readS: number;
  readonly writeS: number;
  readonly settleS: number;
  /** On top of the processor's current. */
  readonly currentA: number;
}

/** The settings of the firmware that decide when it does what; names and meaning as in plyframe.h. */
export interface FirmwareSettings {
  readonly periodMs: number;
  readonly startMv: number;
  readonly fullMv: number;
  readonly lowMv: number;
  readonly conversionMs: number;
  readonly fruitlessLimit: number;
  readonly countersEvery: number;
  /** 0: no bursts. */
  readonly burstEvery: number;
  readonly burstIntervalMs: number;
}

export interface LoadDesign {
  readonly processor: ProcessorDesign;
  readonly sensor: SensorDesign;
  readonly bridge: BridgeDesign;
  readonly firmware: FirmwareSettings;
}

/** What the tag is at: a phase of the duty cycle, or the time between two. */
/** What the firmware does awake, by the steps of its duty cycle. */
export type Phase = Exclude<CostPhase, "frame_encode" | "frame_decode">;

export type Activity = "boot" | Phase | "conversion" | "sleep";

/** A time of one current. */
export interface Stint {
  readonly activity: Activity;
  readonly seconds: number;
  readonly currentA: number;
}

/** Time that the processor computes in a phase. */
export function computingS({ cost, clockHz, cyclesPerInstruction }: ProcessorDesign, phase: CostPhase): number {
  return (cost.counts[phase] * (cost.unit === "cycle" ? 1 : cyclesPerInstruction)) / clockHz;
}

/** Computing and, where it talks to the memory, the traffic of a phase; `traffic` false: this time it does not. */
export function stintsOf({ processor, bridge }: LoadDesign, phase: Phase, traffic = true): readonly Stint[] {
  const computing: Stint = { activity: phase, seconds: computingS(processor, phase), currentA: processor.activeA };
  const words = portTraffic.find((entry) => entry.phase === phase);
  const seconds = words
    ? words.wordsRead * bridge.readS + words.wordsWritten * bridge.writeS + words.settles * bridge.settleS
    : 0;
  if (!traffic || seconds === 0) return [computing];
  return [computing, { activity: phase, seconds, currentA: processor.activeA + bridge.currentA }];
}

/** Largest current of any stint. */
export function peakA({ processor, sensor, bridge }: LoadDesign): number {
  return Math.max(processor.activeA + bridge.currentA, processor.sleepA + sensor.conversionA);
}

/** Charge in coulomb of what a start has to do up to its first frame, without a wait for the supply. */
export function firstFrameCharge(load: LoadDesign): number {
  const { processor, sensor } = load;
  const stints = [
    { seconds: processor.bootS, currentA: processor.activeA },
    ...stintsOf(load, "cold_start"),
    ...stintsOf(load, "check_supply"),
    ...stintsOf(load, "commit_counters"),
    ...stintsOf(load, "check_supply", false),
    ...frameStints(load),
  ];
  return chargeOf(stints) + sensor.conversionS * sensor.conversionA;
}

/** Charge in coulomb of one sample in service, from one sleep to the next. */
export function sampleCharge(load: LoadDesign): number {
  const { sensor } = load;
  return (
    chargeOf([...stintsOf(load, "check_supply", false), ...frameStints(load)]) + sensor.conversionS * sensor.conversionA
  );
}

/** Time in seconds of one sample with its frame and, as in every so many, the counters: the shortest period that is kept. */
export function busySeconds(load: LoadDesign): number {
  const stints = [...stintsOf(load, "check_supply", false), ...frameStints(load), ...stintsOf(load, "commit_counters")];
  const { conversionMs } = load.firmware;
  const late = load.sensor.conversionS * 1000 > conversionMs;
  return stints.reduce((sum, { seconds }) => sum + seconds, ((late ? 2 : 1) * conversionMs) / 1000);
}

function frameStints(load: LoadDesign): readonly Stint[] {
  return (["start_conversion", "read_sensor", "seal_frame", "commit_frame"] as const).flatMap((phase) =>
    stintsOf(load, phase),
  );
}

function chargeOf(stints: readonly { seconds: number; currentA: number }[]): number {
  return stints.reduce((sum, { seconds, currentA }) => sum + seconds * currentA, 0);
}
