/** Columns of a bench run: a quantity with its unit in the name, so that no file leaves a unit open. */
import { STANDARD_GRAVITY } from "../laplace/laplace.ts";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";

export type QuantityId =
  | "time"
  | "reference"
  | "tension"
  | "weight"
  | "sensor"
  | "ambient"
  | "temperature"
  | "circumference"
  | "width"
  | "area"
  | "layers"
  | "cycle"
  | "step";

interface Unit {
  /** SI value = (cell + add) · factor. */
  readonly factor: number;
  readonly add?: number;
}

const pressure: { readonly [suffix: string]: Unit } = {
  pa: { factor: 1 },
  hpa: { factor: 100 },
  mbar: { factor: 100 },
  kpa: { factor: 1000 },
  mmhg: { factor: PASCAL_PER_MMHG },
  cmh2o: { factor: 98.0665 },
  psi: { factor: 6894.757293168 },
};
const raw = { raw: { factor: 1 / 128 } };
const length = { mm: { factor: 1e-3 }, cm: { factor: 1e-2 }, m: { factor: 1 } };
const force = { n: { factor: 1 }, kgf: { factor: STANDARD_GRAVITY }, gf: { factor: STANDARD_GRAVITY / 1000 } };
const plain = { "": { factor: 1 } };

interface Quantity {
  readonly units: { readonly [suffix: string]: Unit };
  /** In SI units: values outside cannot be. */
  readonly range: readonly [number, number];
  readonly what: string;
}

/** Units a quantity may come in, by the suffix of its column. Weights count as the force they exert at standard gravity. */
export const quantities: { readonly [id in QuantityId]: Quantity } = {
  time: { units: { s: { factor: 1 }, min: { factor: 60 }, h: { factor: 3600 } }, range: [0, 1e10], what: "time" },
  reference: { units: pressure, range: [-5_000, 40_000], what: "reference gauge pressure, -50 to 400 hPa" },
  tension: { units: force, range: [0, 500], what: "tension of the strap, 0 to 500 N" },
  weight: {
    units: { ...force, kg: { factor: STANDARD_GRAVITY }, g: { factor: STANDARD_GRAVITY / 1000 } },
    range: [0, 5000],
    what: "weight on the cell, 0 to 5000 N",
  },
  sensor: {
    units: { ...pressure, ...raw },
    range: [26_000, 166_000],
    what: "absolute pressure of the tag, 260 to 1660 hPa",
  },
  ambient: { units: { ...pressure, ...raw }, range: [26_000, 126_000], what: "ambient pressure, 260 to 1260 hPa" },
  temperature: {
    units: { cel: { factor: 1 }, k: { factor: 1, add: -273.15 } },
    range: [-40, 125],
    what: "temperature, -40 to 125 °C",
  },
  circumference: { units: length, range: [0.02, 2], what: "circumference of the form, 2 cm to 2 m" },
  width: { units: length, range: [0.005, 0.5], what: "width of the strap, 5 mm to 50 cm" },
  area: {
    units: { mm2: { factor: 1e-6 }, cm2: { factor: 1e-4 }, m2: { factor: 1 } },
    range: [1e-6, 1],
    what: "area the weight rests on, 1 mm² to 1 m²",
  },
  layers: { units: plain, range: [1, 20], what: "layers, 1 to 20" },
  cycle: { units: plain, range: [1, 1e6], what: "cycle, counted from 1" },
  step: { units: plain, range: [1, 1e6], what: "step, counted from 1" },
};

export interface QuantityColumn {
  readonly name: string;
  readonly quantity: QuantityId;
  /** Suffix of the name. */
  readonly unit: string;
}

/** The quantity and unit a column's name stands for; null when it is not known. */
export function columnOf(name: string): QuantityColumn | null {
  const [, quantity, unit = ""] = /^([a-z]+)(?:_([a-z0-9]+))?$/.exec(name.trim().toLowerCase()) ?? [];
  if (quantity === undefined || !Object.hasOwn(quantities, quantity)) return null;
  const id = quantity as QuantityId;
  return Object.hasOwn(quantities[id].units, unit) ? { name: name.trim(), quantity: id, unit } : null;
}

/** Names a quantity's column may have. */
export function namesOf(quantity: QuantityId): string[] {
  return Object.keys(quantities[quantity].units).map((unit) => (unit ? `${quantity}_${unit}` : quantity));
}

/** SI value (degrees Celsius for temperatures) of a cell. */
export function toSi({ quantity, unit }: QuantityColumn, cell: number): number {
  const { factor, add = 0 } = quantities[quantity].units[unit]!;
  return (cell + add) * factor;
}

/** Suffix of a unit as people write it in a cell; null when it is none. */
export function unitSuffix(text: string): string | null {
  const plainText = text.toLowerCase().replace("°", "").replace("₂", "2").replace("²", "2");
  if (plainText === "c") return "cel";
  const known = Object.values(quantities).some(({ units }) => Object.hasOwn(units, plainText));
  return known && plainText !== "" ? plainText : null;
}
