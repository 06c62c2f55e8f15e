/**
 * A capacitor that is charged at a steady power and emptied by what the firmware does: the supply fails where the energy
 * ends, not where a counter says. Energies are orders of magnitude, invented; the power budget will bring its own.
 */

import type { Cells } from "../../sim/bridge/cells.ts";
import { type Cut, cutAt } from "../../sim/bridge/cut.ts";
import { checkLife, pastOf } from "./check-life.ts";
import { type Finding, judge, type Tally } from "./explore.ts";
import { live, rawsIn, type Store } from "./life.ts";
import { packed, unpacked, viewOf } from "./view.ts";
import { oneFrame } from "./workloads.ts";
import { sampleOf } from "./world.ts";

const COST_UJ = { phase: 0.2, read: 0.4, write: 3, conversion: 15 } as const;
const SLEEP_UW = 2;
/** The microcontroller begins at the first voltage and stops at the second. */
const BEGIN_V = 1.9;
const END_V = 1.6;
const CLAMP_V = 3;

export class Capacitor implements Store {
  readonly #farad: number;
  readonly #chargeUw: number;
  #energyUj: number;
  /** Where the energy ended: writes done by then, and the share of the next one that still was. */
  empty: { readonly writes: number; readonly share: number | null } | null = null;

  constructor(capacitanceUf: number, chargeUw: number) {
    this.#farad = capacitanceUf * 1e-6;
    this.#chargeUw = chargeUw;
    this.#energyUj = this.#energyAt(BEGIN_V);
  }

  #energyAt(volts: number): number {
    return 0.5 * this.#farad * (volts * volts - END_V * END_V) * 1e6;
  }

  supplyMv(): number {
    const volts = Math.sqrt(END_V * END_V + (2 * this.#energyUj * 1e-6) / this.#farad);
    return Math.floor(volts * 1000);
  }

  spend(expense: keyof typeof COST_UJ, writes: number): void {
    if (this.empty) return;
    const cost = COST_UJ[expense];
    if (cost > this.#energyUj) this.empty = { writes, share: expense === "write" ? this.#energyUj / cost : null };
    else this.#energyUj -= cost;
  }

  sleep(ms: number): void {
    if (this.empty) return;
    const gained = ((this.#chargeUw - SLEEP_UW) * ms) / 1000;
    this.#energyUj = Math.max(0, Math.min(this.#energyAt(CLAMP_V), this.#energyUj + gained));
  }
}

const samples = (life: number, n: number) => ({ ...sampleOf(life, n), supplyMv: null });

/** Starts without a frame after which there is no hope of one. */
const HOPELESS = 12;

export type Progress =
  | { readonly kind: "progress"; readonly starts: number }
  | {
      readonly kind: "no progress";
      readonly starts: number;
      /** What the tag itself says of it, read as a reader would. */
      readonly fruitlessStarts: number;
    };

/**
 * Lets the firmware start on such a store again and again until it brings a frame, or for good does not. Every failure of
 * the supply on the way is judged like any other cut; `tally` and `findings` take what comes of it.
 */
export function startOnStore(
  module: WebAssembly.Module,
  cells: Cells,
  capacitanceUf: number,
  chargeUw: number,
  tally: Tally,
  findings: Finding[],
): Progress {
  let before = cells;
  let past = pastOf(cells);
  for (let starts = 1; starts <= HOPELESS; starts++) {
    const store = new Capacitor(capacitanceUf, chargeUw);
    const life = live(module, before, { samples: (n) => samples(starts, n), end: oneFrame, store });
    const id = `store/${capacitanceUf}/${starts}`;
    if (!store.empty) {
      if (!life.ended) break;
      const says = checkLife(life, starts, samples, past);
      if (says !== null) findings.push({ id, says });
      return { kind: "progress", starts };
    }
    const cut = cutOf(store.empty, life.bridge.writes.length);
    if (!cut) continue;
    const judged = judge(life, cut, past, tally);
    if (judged.says !== null) findings.push({ id: `${id}/${cut.at}/${cut.mode}`, says: judged.says });
    before = cutAt(life.before, life.bridge.writes, cut).cells;
    past = judged.past;
  }
  const counters = viewOf(before, "old").counters ?? packed([]);
  return {
    kind: "no progress",
    starts: HOPELESS,
    fruitlessStarts: rawsIn("counters", unpacked(counters))?.fruitless_starts ?? 0,
  };
}

/** Null: the energy ended before anything was written. */
function cutOf({ writes, share }: { writes: number; share: number | null }, total: number): Cut | null {
  if (share === null || writes >= total) return writes === 0 ? null : { at: writes - 1, mode: "after" };
  const bits = Math.floor(share * 16);
  return { at: writes, mode: bits === 0 ? "before" : `msb${bits}` };
}
