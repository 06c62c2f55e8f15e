/** The reference pressure of a bench step from what was applied: a pressure, a strap round a form, or a weight on an area. */
import { laplace } from "../laplace/laplace.ts";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";

export type Load = "pressure" | "tension" | "weight";

/** What turns a tension or a weight into a pressure; null where it is not known. */
export interface FormGeometry {
  /** Metres. */
  readonly circumference: number | null;
  readonly width: number | null;
  readonly layers: number | null;
  /** Square metres. */
  readonly area: number | null;
}

export const NO_GEOMETRY: FormGeometry = { circumference: null, width: null, layers: null, area: null };

/** Values of a row in SI units; forces in newton. */
export interface LoadValues {
  readonly reference?: number;
  readonly tension?: number;
  readonly weight?: number;
  readonly circumference?: number;
  readonly width?: number;
  readonly layers?: number;
  readonly area?: number;
}

/**
 * Gauge pressure in pascal. A strap by Laplace's thin form: an average over the form, which usually lies above what is
 * measured there. One layer when none is said. A row's own values go before the typed ones.
 */
export function loadPressurePa(load: Load, values: LoadValues, geometry: FormGeometry): number {
  if (load === "pressure") return values.reference!;
  if (load === "weight") return values.weight! / (values.area ?? geometry.area!);
  const estimate = laplace({
    tensionN: values.tension!,
    layers: values.layers ?? geometry.layers ?? 1,
    circumferenceCm: (values.circumference ?? geometry.circumference!) * 100,
    widthCm: (values.width ?? geometry.width!) * 100,
    layerThicknessMm: null,
  });
  return estimate.thinMmhg * PASCAL_PER_MMHG;
}
