/** The life of a tag on its supply: field, circuit and duty cycle, from event to event. */
import { SupplyCircuit } from "./circuit.ts";
import { DutyCycle } from "./duty-cycle.ts";
import { Field, type FieldDesign } from "./field.ts";
import type { Activity, LoadDesign, Stint } from "./load.ts";
import type { SupplyDesign } from "./store.ts";

export interface TagDesign {
  readonly supply: SupplyDesign;
  readonly load: LoadDesign;
  readonly field: FieldDesign;
  /** Voltage of the store at time 0. */
  readonly startV: number;
}

/** A stretch of that life, for those who draw it. */
export interface Moment {
  readonly fromS: number;
  readonly toS: number;
  readonly activity: Activity | "off";
  readonly fromV: number;
  readonly toV: number;
}

export interface LifeOptions {
  readonly untilS: number;
  /** Ends the life early. */
  readonly stopWhen?: (life: Life) => boolean;
  /** With the load on, at its start or long after it; left out: with the load off. */
  readonly begin?: "started" | "in-service";
  readonly observe?: (moment: Moment) => void;
}

/** What happened. */
export interface Life {
  seconds: number;
  firstFrameS: number | null;
  frames: number;
  /** Times the supervisor switched the load on. */
  starts: number;
  /** Times the load lost its supply, and in which activity. */
  losses: number;
  readonly lostIn: Partial<Record<Activity, number>>;
  /** Samples that firmware gave up. */
  skipped: number;
  /** Falls of the supply that firmware saw itself. */
  brownOuts: number;
  /** Steps of the simulation: what its cost grows with. */
  events: number;
  /** Voltage of the store at the end. */
  endV: number;
}

export function live(design: TagDesign, options: LifeOptions): Life {
  const { untilS, begin, stopWhen, observe } = options;
  const { processor } = design.load;
  const circuit = new SupplyCircuit(design.supply, design.startV, begin !== undefined);
  const field = new Field(design.field);
  const duty = new DutyCycle(design.load);
  if (begin === "started") duty.start(0);
  if (begin === "in-service") duty.resume(0);
  const life: Life = {
    seconds: 0,
    firstFrameS: null,
    frames: 0,
    starts: 0,
    losses: 0,
    lostIn: {},
    skipped: 0,
    brownOuts: 0,
    events: 0,
    endV: design.startV,
  };
  let nowS = 0;
  let stint: Stint | null = null;
  let stintEndS = 0;
  while (nowS < untilS && !stopWhen?.(life)) {
    life.events++;
    const levelDbm = field.levelDbm;
    const wasOn = circuit.on;
    if (wasOn && !stint) {
      stint = duty.next(nowS, circuit.nodeV(levelDbm, processor.activeA));
      stintEndS = nowS + stint.seconds;
      if (duty.frames > life.frames) {
        life.frames = duty.frames;
        life.firstFrameS ??= nowS;
      }
      life.skipped = duty.skipped;
      life.brownOuts = duty.brownOuts;
    }
    const endS = Math.min(untilS, field.untilS, stint ? stintEndS : Number.POSITIVE_INFINITY);
    const currentA = stint?.currentA ?? 0;
    const fromV = observe ? circuit.nodeV(levelDbm, currentA) : 0;
    const ran = circuit.run(levelDbm, currentA, endS - nowS);
    const switched = circuit.on !== wasOn;
    const thenS = switched ? nowS + ran : endS;
    if (observe && thenS > nowS) {
      const toV = circuit.nodeV(levelDbm, currentA);
      observe({ fromS: nowS, toS: thenS, activity: stint?.activity ?? "off", fromV, toV });
    }
    life.seconds = nowS = thenS;
    life.endV = circuit.insideV;
    if (switched && wasOn) {
      life.losses++;
      const { activity } = stint!;
      life.lostIn[activity] = (life.lostIn[activity] ?? 0) + 1;
      stint = null;
    } else if (switched) {
      life.starts++;
      duty.start(nowS);
    } else if (stint && nowS >= stintEndS) stint = null;
    if (nowS >= field.untilS) field.step();
  }
  return life;
}
