/** The tag's supply as a circuit that lives from event to event: charger, store, supervisor and regulator. */
import { type Band, bandsOf, Harvester, lossV, type SupplyDesign } from "./store.ts";
import { chargingA, insideOf, nodeOf, type Stretch, timeTo, voltageAfter } from "./stretch.ts";

export class SupplyCircuit {
  readonly #design: SupplyDesign;
  readonly #bands: readonly Band[];
  readonly #harvester: Harvester;
  readonly #lossV: number;
  #insideV: number;
  /** Index of the band that holds the voltage inside; of the upper one when it stands at an edge. */
  #band = 0;
  #on: boolean;
  /** Power of the last band at the last level: most calls ask for it again. */
  #known = { chipDbm: Number.NaN, band: -1, powerW: 0 };

  /** `startV`: voltage of the store, not more than its clamp; `on`: whether the load is on, which takes a voltage above its loss. */
  constructor(design: SupplyDesign, startV = 0, on = false) {
    this.#design = design;
    this.#bands = bandsOf(design);
    this.#harvester = new Harvester(design);
    this.#lossV = lossV(design);
    this.#insideV = startV;
    this.#on = on;
    while (this.#band < this.#bands.length && this.#bands[this.#band]!.toV <= startV) this.#band++;
  }

  /** Whether the supervisor lets the load run. */
  get on(): boolean {
    return this.#on;
  }

  /** Voltage inside the capacitor: what a load's switching does not move. */
  get insideV(): number {
    return this.#insideV;
  }

  /** Voltage of the store's node under this power and load. */
  nodeV(chipDbm: number, loadA: number): number {
    return nodeOf(this.#stretch(Math.min(this.#band, this.#bands.length - 1), chipDbm, loadA), this.#insideV);
  }

  /**
   * Lives on for `seconds` with this level at the chip and, while the load is on, this current into it. Returns at the
   * instant at which the supervisor switches, and otherwise at the end: how many seconds went by.
   */
  run(chipDbm: number, loadA: number, seconds: number): number {
    let left = seconds;
    for (;;) {
      const move = this.#move(chipDbm, loadA);
      const node = move === null ? this.nodeV(chipDbm, loadA) : nodeOf(move.stretch, this.#insideV);
      if (this.#on ? node <= this.#lossV : node >= this.#design.supervisor.onV) {
        this.#on = !this.#on;
        return seconds - left;
      }
      if (move === null) return seconds;
      const { stretch, band, rising } = move;
      const edgeV = rising ? band.toV : band.fromV;
      const edgeNode = nodeOf(stretch, edgeV);
      const switchV = this.#on ? this.#lossV : this.#design.supervisor.onV;
      const switches = rising !== this.#on && (rising ? switchV <= edgeNode : switchV >= edgeNode);
      const targetV = switches ? switchV : edgeNode;
      const afterV = voltageAfter(stretch, node, left);
      if (rising ? afterV < targetV : afterV > targetV) {
        this.#enter(band, insideOf(stretch, afterV));
        return seconds;
      }
      left = Math.max(0, left - timeTo(stretch, node, targetV));
      if (switches) {
        this.#enter(band, insideOf(stretch, switchV));
        this.#on = !this.#on;
        return seconds - left;
      }
      this.#enter(band, edgeV);
    }
  }

  /** Where the voltage goes from here; null when it stands: empty, clamped, or between a band that feeds and one that drains. */
  #move(chipDbm: number, loadA: number): { stretch: Stretch; band: Band; rising: boolean } | null {
    const band = this.#bands[this.#band];
    if (band) {
      const stretch = this.#stretch(this.#band, chipDbm, loadA);
      const current = chargingA(stretch, nodeOf(stretch, this.#insideV));
      if (current > 0) return { stretch, band, rising: true };
      if (this.#insideV > band.fromV) return current < 0 ? { stretch, band, rising: false } : null;
    }
    const under = this.#bands[this.#band - 1];
    if (!under) return null;
    const stretch = this.#stretch(this.#band - 1, chipDbm, loadA);
    return chargingA(stretch, nodeOf(stretch, this.#insideV)) < 0 ? { stretch, band: under, rising: false } : null;
  }

  /** Sets the voltage inside, within the band it moved in: the last digit of a calculation must not carry it out. */
  #enter(band: Band, insideV: number): void {
    const bands = this.#bands;
    this.#insideV = Math.min(band.toV, Math.max(band.fromV, insideV));
    while (this.#band > 0 && this.#insideV < bands[this.#band - 1]!.toV) this.#band--;
    while (this.#band < bands.length && this.#insideV >= bands[this.#band]!.toV) this.#band++;
  }

  #stretch(index: number, chipDbm: number, loadA: number): Stretch {
    const { store, supervisor, regulator } = this.#design;
    const band = this.#bands[index]!;
    const known = this.#known;
    if (known.chipDbm !== chipDbm || known.band !== index) {
      known.chipDbm = chipDbm;
      known.band = index;
      known.powerW = this.#harvester.powerW(chipDbm, band);
    }
    return {
      powerW: known.powerW,
      currentA: (band.started ? supervisor.currentA : 0) + (this.#on ? regulator.quiescentA + loadA : 0),
      leakageS: 1 / store.leakageOhm,
      capacitanceF: band.capacitanceF,
      esrOhm: store.esrOhm,
    };
  }
}
