import type { View } from "./view.ts";

/** The views in the order of the navigation; each is loaded when it is first opened. */
export const views: readonly View[] = [
  { id: "now", marks: true, load: () => import("../now/now-view.ts") },
  { id: "time", marks: true, load: () => import("../time/time-view.ts") },
  { id: "bytes", marks: false, load: () => import("../bytes/bytes-view.ts") },
  { id: "power", marks: false, load: () => import("../power/power-view.ts") },
  { id: "calibrate", marks: false, load: () => import("../calibrate/calibrate-view.ts") },
];
