import type { NumberField, RecordSpec } from "../model/vocabulary.ts";
import { kindField, layoutField, sealField } from "./seal.ts";

type Quantity = Pick<NumberField, "unit" | "scale" | "range" | "why"> & Partial<Pick<NumberField, "sentinels">>;

function number(
  id: string,
  type: "unsigned" | "signed",
  at: number,
  container: 16 | 32,
  bits: readonly [number, number],
  quantity: Quantity,
): NumberField {
  return {
    id,
    type,
    at,
    container,
    bits,
    rounding: "half-away-from-zero",
    outOfRange: "reject",
    coldStart: "kept",
    ...quantity,
  };
}

/** The calibration block: integers that every language combines the same way (protocol/COMPENSATION.md). */
export const calibration: RecordSpec = {
  id: "calibration",
  title: "Calibration block",
  why: "Turns raw words into a pressure with a stated uncertainty; kept twice so that an interrupted update loses nothing.",
  bytes: 32,
  fields: [
    kindField(0, 16, [15, 12], "calibration"),
    layoutField(0, 16, [11, 8]),
    {
      id: "method",
      type: "enumeration",
      at: 0,
      container: 16,
      bits: [7, 4],
      coldStart: "kept",
      why: "How the coefficients were found: says what they can be trusted for.",
      names: [
        { raw: 1, id: "bench_two_point", why: "Two pressures on the bench." },
        { raw: 2, id: "bench_multi_point", why: "A run of pressures up and down on the bench." },
        { raw: 3, id: "bench_with_temperature", why: "A run of pressures at several temperatures." },
        { raw: 4, id: "limb_form", why: "Wrapped on a limb form with a known load." },
        { raw: 5, id: "zero_only", why: "Offset only: gain is taken as designed." },
      ],
    },
    number("reuse_since", "unsigned", 0, 16, [3, 0], {
      unit: "one",
      scale: { num: 1, den: 1 },
      range: [0, 14],
      sentinels: [{ raw: 15, id: "saturated", means: "saturated" }],
      why: "Reuse cycles since this calibration: any asks for a check, for a cell that saw steam and vacuum may have moved.",
    }),
    number("date", "unsigned", 2, 16, [15, 0], {
      unit: "day",
      scale: { num: 1, den: 1 },
      range: [0, 65_534],
      sentinels: [{ raw: 65_535, id: "not_stated", means: "absent" }],
      why: "Day of the calibration, counted from 2020-01-01: an old one is named as such.",
    }),
    number("sensor_serial", "unsigned", 4, 32, [31, 0], {
      unit: "one",
      scale: { num: 1, den: 1 },
      range: [1, 4_294_967_295],
      why: "The sensor these coefficients belong to; must equal the header's.",
    }),
    number("reuse_count", "unsigned", 8, 32, [31, 24], {
      unit: "one",
      scale: { num: 1, den: 1 },
      range: [0, 254],
      why: "Sterilisation and reuse cycles over the tag's life; a reader raises it, with both copies, at every cycle.",
    }),
    number("offset", "signed", 8, 32, [23, 0], {
      unit: "pascal",
      scale: { num: 1, den: 128 },
      range: [-8_388_608, 8_388_607],
      why: "Added to the absolute pressure: soldering and ageing shift of the sensor.",
    }),
    number("reuse_limit", "unsigned", 12, 32, [31, 24], {
      unit: "one",
      scale: { num: 1, den: 1 },
      range: [0, 254],
      sentinels: [{ raw: 255, id: "not_limited", means: "absent" }],
      why: "Reuse cycles after which the tag is to be retired.",
    }),
    number("gain", "unsigned", 12, 32, [23, 0], {
      unit: "one",
      scale: { num: 1, den: 1_048_576 },
      range: [262_144, 4_194_304],
      why: "Multiplies the difference from ambient: the cell's wall and foam take a share of the load.",
    }),
    number("temperature_effect", "signed", 16, 16, [15, 0], {
      unit: "pascal_per_kelvin",
      scale: { num: 1, den: 64 },
      range: [-32_768, 32_767],
      why: "Rise of the absolute pressure per kelvin at constant load; a rigid sealed cell would show 340 Pa/K.",
    }),
    number("gain_temperature", "signed", 18, 16, [15, 0], {
      unit: "per_kelvin",
      scale: { num: 1, den: 1_000_000 },
      range: [-32_768, 32_767],
      why: "Relative change of the gain per kelvin: wall and foam soften as they warm.",
    }),
    number("curvature", "signed", 20, 16, [15, 0], {
      unit: "per_pascal",
      scale: { num: 1, den: 1_000_000_000 },
      range: [-32_768, 32_767],
      why: "Relative change of the gain per pascal of load, where the data carry it.",
    }),
    number("reference_temperature", "signed", 22, 16, [15, 0], {
      unit: "celsius",
      scale: { num: 1, den: 100 },
      range: [-4000, 12_500],
      why: "Temperature at which the temperature terms are zero.",
    }),
    number("expanded_uncertainty", "unsigned", 24, 16, [15, 0], {
      unit: "pascal",
      scale: { num: 1, den: 1 },
      range: [0, 65_534],
      sentinels: [{ raw: 65_535, id: "not_stated", means: "absent" }],
      why: "Expanded uncertainty (k = 2) of a gauge pressure within the calibrated range, ambient excluded.",
    }),
    number("temperature_low", "signed", 26, 16, [15, 8], {
      unit: "celsius",
      scale: { num: 1, den: 1 },
      range: [-40, 125],
      why: "Lowest temperature the calibration covered: outside it a reading is marked.",
    }),
    number("temperature_high", "signed", 26, 16, [7, 0], {
      unit: "celsius",
      scale: { num: 1, den: 1 },
      range: [-40, 125],
      why: "Highest temperature the calibration covered: outside it a reading is marked.",
    }),
    number("span", "unsigned", 28, 16, [15, 8], {
      unit: "hectopascal",
      scale: { num: 1, den: 1 },
      range: [1, 255],
      why: "Highest gauge pressure the calibration covered: beyond it a reading is marked.",
    }),
    number("validity", "unsigned", 28, 16, [7, 0], {
      unit: "month",
      scale: { num: 1, den: 1 },
      range: [1, 254],
      sentinels: [{ raw: 255, id: "not_limited", means: "absent" }],
      why: "Months after which the calibration is to be repeated.",
    }),
    sealField(32),
  ],
};
