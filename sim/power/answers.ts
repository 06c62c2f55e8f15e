/** What an engineer asks a power budget. */
import { type Life, type LifeOptions, live, type TagDesign } from "./life.ts";
import { type Activity, busySeconds, firstFrameCharge, sampleCharge } from "./load.ts";
import { wattOfDbm } from "./rectifier.ts";
import { bandsOf, chargeBetween, lossV } from "./store.ts";

/** Why there is no number, for who says it in other words. Voltages in V, charges in µC, times in ms. */
export type Cause =
  | { readonly code: "store-below-supervisor"; readonly storeV: number; readonly onV: number }
  | { readonly code: "conversion-too-long"; readonly conversionMs: number; readonly waitMs: number }
  | { readonly code: "task-too-large"; readonly activity: Activity; readonly needsUc: number; readonly storeUc: number }
  | { readonly code: "sample-never-begun"; readonly startV: number }
  | { readonly code: "slower-than-slowest" }
  | { readonly code: "no-capacitor" };

/** A number, or the reason why there is none. */
export type Answer = { readonly value: number } | { readonly never: string; readonly cause: Cause };

/** A tag that has not sent a frame by then is said never to. */
const PATIENCE_S = 3600;
/** Starts in a row without a frame, and samples in a row without enough supply, after which it is said never to. */
const FRUITLESS_STARTS = 20;
const FRUITLESS_SAMPLES = 2000;

/** Time in seconds from the field's coming to the first whole frame. */
export function timeToFirstFrame(design: TagDesign): Answer {
  const life = live(design, {
    untilS: PATIENCE_S,
    stopWhen: ({ frames, losses, skipped }) => frames > 0 || losses >= FRUITLESS_STARTS || skipped >= FRUITLESS_SAMPLES,
  });
  return life.firstFrameS === null ? because(whyNoFrame(design, life)) : { value: life.firstFrameS };
}

/** What keeps a tag from its first frame. */
function whyNoFrame({ supply, load }: TagDesign, life: Life): Cause {
  const { firmware, sensor } = load;
  if (life.starts === 0) {
    return { code: "store-below-supervisor", storeV: life.endV, onV: supply.supervisor.onV };
  }
  const [conversionMs, waitMs] = [sensor.conversionS * 1000, 2 * firmware.conversionMs];
  if (conversionMs > waitMs) return { code: "conversion-too-long", conversionMs, waitMs };
  if (life.losses > 0) {
    const [activity] = Object.entries(life.lostIn).sort(([, a], [, b]) => b - a)[0]!;
    return {
      code: "task-too-large",
      activity: activity as Activity,
      needsUc: firstFrameCharge(load) * 1e6,
      storeUc: storeCharge(supply) * 1e6,
    };
  }
  return { code: "sample-never-begun", startV: firmware.startMv / 1000 };
}

function because(cause: Cause): Answer {
  return { never: causeSentence(cause), cause };
}

function causeSentence(cause: Cause): string {
  switch (cause.code) {
    case "store-below-supervisor":
      return `the store stands at ${cause.storeV.toFixed(2)} V and never comes to the supervisor's ${cause.onV} V`;
    case "conversion-too-long":
      return `a conversion takes ${cause.conversionMs} ms and firmware waits ${cause.waitMs} ms for it`;
    case "task-too-large":
      return (
        `impossible task: start after start loses its supply, most often in ${cause.activity}; up to the first frame ` +
        `it takes ${cause.needsUc.toFixed(1)} uC, and the store gives ${cause.storeUc.toFixed(1)} uC`
      );
    case "sample-never-begun":
      return `the load runs, but firmware never finds the ${cause.startV} V at which it begins a sample`;
    case "slower-than-slowest":
      return "not even the slowest sampling period of 60 s can be kept up";
    case "no-capacitor":
      return "no capacitor carries a start from the supervisor's on to a frame";
  }
}

/** Charge in coulomb that the store gives from the supervisor's on to the loss of the load. */
export function storeCharge(supply: TagDesign["supply"]): number {
  return chargeBetween(bandsOf(supply), lossV(supply), supply.supervisor.onV);
}

/** Limits of the sampling period in the header, as rates. */
const FASTEST = 100;
const SLOWEST = 1 / 60;
const NARROW = 1.004;

/**
 * Largest sampling rate in 1/s at which, once settled, every sample becomes a frame and the supply is never lost. Bursts are
 * left out: they come on top and give way to the frames. It is never more than the firmware has time for.
 */
export function sustainableRate(design: TagDesign): Answer {
  const fastest = Math.min(FASTEST, 1 / busySeconds(design.load));
  const guess = Math.min(fastest, Math.max(SLOWEST, guessedRate(design)));
  let good = guess / 1.25;
  while (!sustains(design, good)) {
    if (good <= SLOWEST) return because({ code: "slower-than-slowest" });
    good = Math.max(SLOWEST, good / 2);
  }
  let bad = Math.min(fastest, Math.max(good * 1.25, guess * 1.05));
  while (sustains(design, bad)) {
    if (bad >= fastest) return { value: fastest };
    good = bad;
    bad = Math.min(fastest, bad * 1.5);
  }
  while (bad / good > NARROW) {
    const middle = Math.sqrt(good * bad);
    if (sustains(design, middle)) good = middle;
    else bad = middle;
  }
  return { value: good };
}

/** Charge that comes in on average at firmware's threshold, less what sleep takes, over the charge of a sample. */
function guessedRate({ supply, load, field }: TagDesign): number {
  const thresholdV = load.firmware.startMv / 1000;
  const on = field.hopS > 0 ? field.dwellS / (field.dwellS + field.hopS) : 1;
  const efficiency = 0.4;
  const inA = (wattOfDbm(field.powerDbm) * efficiency * on) / thresholdV;
  const idleA = load.processor.sleepA + supply.supervisor.currentA + supply.regulator.quiescentA;
  return (inA - idleA) / sampleCharge(load);
}

function sustains(design: TagDesign, rateHz: number): boolean {
  const { load, field } = design;
  const periodS = 1 / rateHz;
  const trains = [
    field.hopS > 0 ? field.dwellS + field.hopS : 0,
    field.handDb > 0 ? field.handPeriodS : 0,
    field.replyS > 0 ? field.roundS : 0,
  ];
  const longestS = Math.max(...trains);
  const slow = periodS > 0.5;
  const settledS = Math.max((slow ? 12 : 32) * periodS, 3 * longestS);
  const untilS = settledS + Math.max((slow ? 24 : 64) * periodS, 4 * longestS);
  const firmware = { ...load.firmware, periodMs: 1000 * periodS, burstEvery: 0 };
  let settled: Pick<Life, "skipped" | "losses" | "frames"> | null = null;
  let failed = false;
  const life = live(
    { ...design, load: { ...load, firmware }, startV: Math.max(firmware.startMv / 1000, lossV(design.supply)) + 0.02 },
    {
      untilS,
      begin: "in-service",
      stopWhen: ({ seconds, skipped, losses, frames }) => {
        if (seconds >= settledS) settled ??= { skipped, losses, frames };
        failed = settled !== null && (skipped > settled.skipped || losses > settled.losses);
        return failed;
      },
    },
  );
  // A tag that has gone off for good skips nothing either.
  const due = Math.floor((untilS - settledS) * rateHz) - 2;
  return !failed && settled !== null && life.frames - (settled as Life).frames >= due;
}

/** Least nominal capacitance in farad that carries a start through its first frame with the field gone at the supervisor's on. */
export function leastCapacitor(design: TagDesign): Answer {
  const finishes = (capacitanceF: number) => {
    const supply = { ...design.supply, store: { ...design.supply.store, capacitanceF } };
    const field = { ...design.field, powerDbm: Number.NEGATIVE_INFINITY, hopS: 0, replyS: 0, handDb: 0 };
    const options: LifeOptions = {
      untilS: 60,
      begin: "started",
      stopWhen: ({ frames, losses, skipped }) => frames > 0 || losses > 0 || skipped > 0,
    };
    return live({ ...design, supply, field, startV: supply.supervisor.onV }, options).frames > 0;
  };
  let bad = 1e-9;
  let good = 1;
  if (!finishes(good)) return because({ code: "no-capacitor" });
  while (good / bad > 1.0005) {
    const middle = Math.sqrt(good * bad);
    if (finishes(middle)) good = middle;
    else bad = middle;
  }
  return { value: good };
}

/** Times a minute that the load loses its supply, over a life of `seconds`. */
export function brownOutsPerMinute(design: TagDesign, seconds: number): Answer {
  return { value: (live(design, { untilS: seconds }).losses * 60) / seconds };
}

/** Values of the E6 series, the one that storage capacitors are sold in. */
const E6 = [1, 1.5, 2.2, 3.3, 4.7, 6.8, 10];

/** The next value of the E6 series that is not smaller. */
export function nextE6(capacitanceF: number): number {
  const decade = 10 ** Math.floor(Math.log10(capacitanceF));
  return E6.find((value) => value * decade >= capacitanceF * (1 - 1e-9))! * decade;
}
