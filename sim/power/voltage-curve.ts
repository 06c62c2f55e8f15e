/** A life as it is drawn: the store's voltage as a curve, and firmware's states under it. */
import type { Moment } from "./life.ts";

/** Rows under the voltage, each with the activities that are drawn in it. */
export const states = [
  { name: "off", has: ["off"] },
  { name: "start", has: ["boot", "cold_start"] },
  { name: "check", has: ["check_supply"] },
  { name: "convert", has: ["start_conversion", "conversion", "read_sensor"] },
  { name: "frame", has: ["seal_frame", "commit_frame"] },
  { name: "counters", has: ["commit_counters"] },
  { name: "burst", has: ["commit_burst"] },
  { name: "sleep", has: ["sleep"] },
] as const satisfies readonly { readonly name: string; readonly has: readonly Moment["activity"][] }[];

export type StateName = (typeof states)[number]["name"];

/** The moments that touch a window; one that reaches beyond is cut there. */
export function momentsIn(moments: readonly Moment[], fromS: number, toS: number): readonly Moment[] {
  return moments
    .filter((moment) => moment.fromS < toS && moment.toS > fromS)
    .map((moment) => ({
      ...moment,
      fromS: Math.max(fromS, moment.fromS),
      toS: Math.min(toS, moment.toS),
      fromV: voltageAt(moment, Math.max(fromS, moment.fromS)),
      toV: voltageAt(moment, Math.min(toS, moment.toS)),
    }));
}

/** Points of a moment; a long one is bent as charging with constant power bends it. */
export function curveOf(moment: Moment): readonly { readonly s: number; readonly v: number }[] {
  const { fromS, toS, fromV, toV } = moment;
  const steps = Math.abs(toV - fromV) > 0.05 ? 24 : 1;
  return Array.from({ length: steps + 1 }, (_, i) => {
    const s = fromS + ((toS - fromS) * i) / steps;
    return { s, v: voltageAt(moment, s) };
  });
}

/** Only the square of the voltage is carried on straight: charging with constant power. */
function voltageAt({ fromS, toS, fromV, toV }: Moment, s: number): number {
  if (s === fromS) return fromV;
  return s === toS ? toV : Math.sqrt(fromV ** 2 + ((s - fromS) / (toS - fromS)) * (toV ** 2 - fromV ** 2));
}
