/** The storage capacitor and what stands around it, as bands of voltage in each of which capacitance and efficiency are constant. */
import { type EfficiencyTable, interpolate, Rectifier, wattOfDbm } from "./rectifier.ts";

/** Incremental capacitance at a bias, as a share of the nominal one. */
export interface DeratingPoint {
  readonly biasV: number;
  /** Above 0, at most 1. */
  readonly share: number;
}

export interface StoreDesign {
  readonly capacitanceF: number;
  /** Insulation resistance; Infinity for none. */
  readonly leakageOhm: number;
  readonly esrOhm: number;
  /** A shunt holds the store at this voltage. */
  readonly clampV: number;
  /** Points that rise in voltage; empty: no derating. */
  readonly derating: readonly DeratingPoint[];
}

/** Below `voltageV` the charger is not running: it takes nothing below `powerDbm`, and only a share of its efficiency above. */
export interface ColdStart {
  readonly voltageV: number;
  readonly powerDbm: number;
  /** 0 to 1. */
  readonly share: number;
}

export interface SupervisorDesign {
  /** The load is switched on when the store rises to this, and off when it falls to `offV`. */
  readonly onV: number;
  readonly offV: number;
  /** Drawn above the cold-start voltage, load or no load. */
  readonly currentA: number;
}

/** A linear regulator: what the load draws at the rail comes out of the store, and the quiescent current with it. */
export interface RegulatorDesign {
  readonly quiescentA: number;
  readonly dropoutV: number;
  /** Lowest voltage of the rail at which the load works. */
  readonly minimumRailV: number;
}

export interface SupplyDesign {
  readonly rectifier: EfficiencyTable;
  readonly store: StoreDesign;
  readonly coldStart: ColdStart;
  readonly supervisor: SupervisorDesign;
  readonly regulator: RegulatorDesign;
}

/** Voltages inside the capacitor between which nothing of this depends on the voltage. */
export interface Band {
  readonly fromV: number;
  readonly toV: number;
  readonly capacitanceF: number;
  /** Whether the charger runs and the supervisor lives. */
  readonly started: boolean;
}

/** Widest band, where capacitance or efficiency are tables over voltage: a table is followed in steps of this width. */
const STEP_V = 0.025;

/** The store falls to this with the load on, and the load is off: the supervisor's doing, or the rail's. */
export function lossV({ supervisor, regulator }: SupplyDesign): number {
  return Math.max(supervisor.offV, regulator.minimumRailV + regulator.dropoutV);
}

/** Bands from 0 V to the clamp, without a gap. */
export function bandsOf(design: SupplyDesign): readonly Band[] {
  const { store, coldStart } = design;
  const rectifier = new Rectifier(design.rectifier);
  const edges = new Set([0, coldStart.voltageV, store.clampV]);
  const spans: (readonly [number, number])[] = [];
  if (rectifier.dependsOnVoltage) spans.push(rectifier.voltages);
  const [first, last] = [store.derating[0], store.derating.at(-1)];
  if (first && last) spans.push([first.biasV, last.biasV]);
  for (const [low, high] of spans) {
    const steps = Math.ceil((high - low) / STEP_V);
    for (let i = 0; i <= steps; i++) edges.add(low + ((high - low) * i) / Math.max(1, steps));
  }
  const sorted = [...edges].filter((edge) => edge >= 0 && edge <= store.clampV).sort((a, b) => a - b);
  return sorted.slice(1).map((toV, i) => {
    const fromV = sorted[i]!;
    return {
      fromV,
      toV,
      capacitanceF: store.capacitanceF * shareAt(store.derating, (fromV + toV) / 2),
      started: fromV >= coldStart.voltageV,
    };
  });
}

function shareAt(derating: readonly DeratingPoint[], biasV: number): number {
  if (derating.length === 0) return 1;
  return interpolate(
    derating.map((point) => point.biasV),
    derating.map((point) => point.share),
    biasV,
  );
}

/** Charge in coulomb between two voltages inside the capacitor. */
export function chargeBetween(bands: readonly Band[], fromV: number, toV: number): number {
  let charge = 0;
  for (const band of bands) {
    charge += band.capacitanceF * Math.max(0, Math.min(toV, band.toV) - Math.max(fromV, band.fromV));
  }
  return charge;
}

/** Direct current power in watt that reaches the store in a band, for a level at the chip. */
export class Harvester {
  readonly #rectifier: Rectifier;
  readonly #coldStart: ColdStart;

  constructor(design: SupplyDesign) {
    this.#rectifier = new Rectifier(design.rectifier);
    this.#coldStart = design.coldStart;
  }

  powerW(chipDbm: number, band: Band): number {
    if (chipDbm === Number.NEGATIVE_INFINITY) return 0;
    const middleV = (band.fromV + band.toV) / 2;
    const powerW = wattOfDbm(chipDbm) * this.#rectifier.efficiency(chipDbm, middleV);
    if (band.started) return powerW;
    return chipDbm < this.#coldStart.powerDbm ? 0 : powerW * this.#coldStart.share;
  }
}
