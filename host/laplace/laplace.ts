/**
 * Sub-bandage pressure by the equation of Laplace, as an estimate before wrapping: P = T·n/(R·W) with the tension T of one
 * layer, n layers, the radius R of the limb and the width W of the bandage; R from the girth C as C/2π.
 */
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";

export const STANDARD_GRAVITY = 9.80665;

/** Thomas, "The use of the Laplace equation in the calculation of sub-bandage pressure", World Wide Wounds, June 2003. */
const PUBLISHED_CONSTANT = 4620;

export interface Wrap {
  readonly tensionN: number;
  readonly layers: number;
  readonly circumferenceCm: number;
  readonly widthCm: number;
  /** Null: the thick form is not worked. */
  readonly layerThicknessMm: number | null;
}

export interface LaplaceEstimate {
  /** Layers without thickness, worked exactly. */
  readonly thinMmhg: number;
  /** As published with its rounded constant: P[mmHg] = T[kgf]·n·4620/(C[cm]·W[cm]). */
  readonly publishedMmhg: number;
  /** Each layer on the radius that the layers before it and its own thickness make; null without a thickness. */
  readonly thickMmhg: number | null;
}

export const laplaceLimits: readonly string[] = [
  "A Laplace value is an average estimate around the limb, not a measurement; measured pressures are usually lower (by up to 42 % above the ankle in Garrigues-Ramón 2021, J Wound Care 30(4):276).",
  "It takes the limb as a round cylinder, the tension as even and lasting, and no friction between layers; over bony or tendinous places the radius is smaller and the pressure higher.",
  "The thin form leaves the thickness of the layers out and is too high for several layers (19 % or more at a girth of 25 cm with four components in Al Khaburi 2011).",
];

export function laplace({ tensionN, layers, circumferenceCm, widthCm, layerThicknessMm }: Wrap): LaplaceEstimate {
  const widthM = widthCm / 100;
  const radiusM = circumferenceCm / 100 / (2 * Math.PI);
  const ofRadius = (m: number) => tensionN / (widthM * m) / PASCAL_PER_MMHG;
  let thickMmhg: number | null = null;
  if (layerThicknessMm !== null) {
    thickMmhg = 0;
    for (let layer = 1; layer <= layers; layer++) thickMmhg += ofRadius(radiusM + (layer * layerThicknessMm) / 1000);
  }
  const tensionKgf = tensionN / STANDARD_GRAVITY;
  return {
    thinMmhg: layers * ofRadius(radiusM),
    publishedMmhg: (tensionKgf * layers * PUBLISHED_CONSTANT) / (circumferenceCm * widthCm),
    thickMmhg,
  };
}

/** Tension of one layer, in newton, that the thin form asks for a pressure. */
export function tensionFor(mmhg: number, { layers, circumferenceCm, widthCm }: Omit<Wrap, "tensionN">): number {
  const unit = laplace({ tensionN: 1, layers, circumferenceCm, widthCm, layerThicknessMm: null });
  return mmhg / unit.thinMmhg;
}
