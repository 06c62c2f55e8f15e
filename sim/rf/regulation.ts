/** Bands in which a reader may transmit, and how strongly. National rules may be narrower. */

export type Region = "eu_lower" | "eu_upper" | "us";

export interface Rule {
  readonly region: Region;
  readonly title: string;
  readonly lowHz: number;
  readonly highHz: number;
  /** Radiated power as the rule states it, and against which antenna: a half-wave dipole (ERP) or an isotropic one (EIRP). */
  readonly limitW: number;
  readonly against: "erp" | "eirp";
  /** Power into the antenna, where the rule limits it too. */
  readonly conductedW?: number;
  readonly source: string;
}

/** EIRP over ERP: the gain of a half-wave dipole as these rules count it, 2.15 dB (from memory). */
export const ERP_TO_EIRP = 1.64;

export const rules: readonly Rule[] = [
  {
    region: "eu_lower",
    title: "Europe, lower band",
    lowHz: 865e6,
    highHz: 868e6,
    limitW: 2,
    against: "erp",
    source: "ETSI EN 302 208 V3.4.1; CEPT ERC/REC 70-03 annex 11; decision (EU) 2017/1483",
  },
  {
    region: "eu_upper",
    title: "Europe, upper band",
    lowHz: 915e6,
    highHz: 921e6,
    limitW: 4,
    against: "erp",
    source: "ETSI EN 302 208 V3.4.1 (ERC/REC 70-03: up to 919.4 MHz); decision (EU) 2018/1538; national limits differ",
  },
  {
    region: "us",
    title: "United States",
    lowHz: 902e6,
    highHz: 928e6,
    limitW: 4,
    against: "eirp",
    conductedW: 1,
    source: "FCC 47 CFR 15.247, hopping over 50 channels, 1 W and 6 dBi (from memory)",
  },
];

export function ruleOf(region: Region): Rule {
  return rules.find((rule) => rule.region === region)!;
}

export function eirpLimitW({ limitW, against }: Rule): number {
  return against === "erp" ? limitW * ERP_TO_EIRP : limitW;
}
