/**
 * Permittivity of tissues by the four-term Cole-Cole model of S. Gabriel, R. W. Lau and C. Gabriel, Phys. Med. Biol. 41
 * (1996) 2271: what a phantom behind the antenna should be like.
 */
import { add, type Complex, divide, magnitude } from "./complex.ts";
import { LIGHT_M_PER_S } from "./link.ts";

interface Term {
  readonly delta: number;
  readonly tauS: number;
  readonly alpha: number;
}

interface ColeCole {
  readonly infinite: number;
  readonly terms: readonly Term[];
  readonly ionicSPerM: number;
}

/** Parameters as two public programs have them; for muscle the third alpha is 0.1, as in the paper. */
const TISSUES = {
  skin_dry: {
    infinite: 4,
    ionicSPerM: 2e-4,
    terms: [
      { delta: 32, tauS: 7.23e-12, alpha: 0 },
      { delta: 1100, tauS: 32.48e-9, alpha: 0.2 },
    ],
  },
  fat: {
    infinite: 2.5,
    ionicSPerM: 0.01,
    terms: [
      { delta: 3, tauS: 7.96e-12, alpha: 0.2 },
      { delta: 15, tauS: 15.92e-9, alpha: 0.1 },
      { delta: 3.3e4, tauS: 159.15e-6, alpha: 0.05 },
      { delta: 1e7, tauS: 7.958e-3, alpha: 0.01 },
    ],
  },
  muscle: {
    infinite: 4,
    ionicSPerM: 0.2,
    terms: [
      { delta: 50, tauS: 7.23e-12, alpha: 0.1 },
      { delta: 7000, tauS: 353.68e-9, alpha: 0.1 },
      { delta: 1.2e6, tauS: 318.31e-6, alpha: 0.1 },
      { delta: 2.5e7, tauS: 2.274e-3, alpha: 0 },
    ],
  },
} as const satisfies { readonly [name: string]: ColeCole };

export type Tissue = keyof typeof TISSUES;

export const tissues = Object.keys(TISSUES) as readonly Tissue[];

/** Electric constant in F/m (CODATA 2018). */
const EPSILON_0 = 8.8541878128e-12;

export interface TissueAt {
  /** Relative permittivity, real part. */
  readonly permittivity: number;
  readonly conductivitySPerM: number;
  /** Depth at which the field of a plane wave has fallen to 1/e. */
  readonly depthM: number;
}

export function tissueAt(tissue: Tissue, frequencyHz: number): TissueAt {
  const { infinite, terms, ionicSPerM }: ColeCole = TISSUES[tissue];
  const omega = 2 * Math.PI * frequencyHz;
  const relaxations = terms.map(({ delta, tauS, alpha }) => {
    // (jωτ)^(1−α) has the angle 90° · (1−α).
    const size = (omega * tauS) ** (1 - alpha);
    const angle = ((1 - alpha) * Math.PI) / 2;
    return divide({ re: delta, im: 0 }, { re: 1 + size * Math.cos(angle), im: size * Math.sin(angle) });
  });
  const ionic: Complex = { re: 0, im: -ionicSPerM / (omega * EPSILON_0) };
  const relative = add({ re: infinite, im: 0 }, ionic, ...relaxations);
  // Attenuation of a plane wave: ω/c · |Im √ε|.
  const rootIm = Math.sqrt((magnitude(relative) - relative.re) / 2);
  return {
    permittivity: relative.re,
    conductivitySPerM: -relative.im * omega * EPSILON_0,
    depthM: LIGHT_M_PER_S / (omega * rootIm),
  };
}
