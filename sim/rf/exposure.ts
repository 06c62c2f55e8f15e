/** Exposure of people: the distance at which a far-field power density has fallen to a reference level. */
import { farFieldFromM } from "./link.ts";

export interface ExposureLevel {
  readonly id: string;
  readonly title: string;
  /** Power density of a plane wave; MHz from 400 to 2000. */
  readonly wattPerM2: (frequencyMhz: number) => number;
  readonly source: string;
}

export const exposureLevels: readonly ExposureLevel[] = [
  {
    id: "public_whole_body",
    title: "general public, whole body",
    wattPerM2: (mhz) => mhz / 200,
    source: "ICNIRP 1998, 2020: f/200; 1999/519/EC from memory",
  },
  {
    id: "public_local",
    title: "general public, local",
    wattPerM2: (mhz) => 0.058 * mhz ** 0.86,
    source: "ICNIRP 2020: 0.058 f^0.86",
  },
  {
    id: "occupational_whole_body",
    title: "at work, whole body",
    wattPerM2: (mhz) => mhz / 40,
    source: "ICNIRP 1998, 2020: f/40, from memory",
  },
];

export interface ExposureDistance {
  readonly level: ExposureLevel;
  readonly wattPerM2: number;
  readonly distanceM: number;
  /** Whether the far-field formula holds at that distance; where it does not, only an assessment of SAR answers. */
  readonly usable: boolean;
}

/** In the middle of the main beam; `duty` is the share of time the reader transmits, 0 to 1. */
export function exposureDistance(
  level: ExposureLevel,
  eirpW: number,
  duty: number,
  frequencyHz: number,
  antennaSizeM: number,
): ExposureDistance {
  const wattPerM2 = level.wattPerM2(frequencyHz / 1e6);
  const distanceM = Math.sqrt((eirpW * duty) / (4 * Math.PI * wattPerM2));
  return { level, wattPerM2, distanceM, usable: distanceM >= farFieldFromM(frequencyHz, antennaSizeM) };
}
