import { SupplyCircuit } from "../power/circuit.ts";
import type { TagDesign } from "../power/life.ts";

/** A tag's power budget on kit time: harvest, store and supervisor, with the load that its firmware is. */
export class TagSupply {
  readonly #circuit: SupplyCircuit;
  readonly #activeA: number;
  #nowUs = 0;
  #chipDbm = Number.NEGATIVE_INFINITY;

  /** The design with a store of this nominal capacitance. */
  constructor({ supply, load, startV }: TagDesign, capacitanceF: number) {
    this.#circuit = new SupplyCircuit({ ...supply, store: { ...supply.store, capacitanceF } }, startV);
    this.#activeA = load.processor.activeA;
  }

  /** Whether the supervisor lets the load run. */
  get on(): boolean {
    return this.#circuit.on;
  }

  /** Voltage of the store, as a processor at work finds it. */
  get volts(): number {
    return this.#circuit.nodeV(this.#chipDbm, this.#activeA);
  }

  /** Level at the chip from now on; -Infinity is no field at all. */
  setLevel(chipDbm: number): void {
    this.#chipDbm = chipDbm;
  }

  /**
   * Lives on to kit time `toUs` with this load while it is on. Returns the kit time it came to: that of the switch when the
   * supervisor switched, rounded up to a whole microsecond, and otherwise `toUs`.
   */
  runTo(toUs: number, loadA: number): number {
    const before = this.#circuit.on;
    const ranS = this.#circuit.run(this.#chipDbm, loadA, (toUs - this.#nowUs) / 1e6);
    this.#nowUs = this.#circuit.on === before ? toUs : Math.min(toUs, Math.ceil(this.#nowUs + ranS * 1e6));
    return this.#nowUs;
  }
}
