/** Calibrated readings: with and without ambient, calibration and uncertainty, at the ends of what they cover. */
import { layout } from "../../../protocol/index.ts";
import { fieldIndex, recordOf } from "../../../protocol/model/layout.ts";
import { bytesOf } from "../../support/vectors.ts";
import type { Group } from "./group.ts";
import { rawIn } from "./raw-fields.ts";
import { type AnyVector, vectorsOfKind } from "./vector-set.ts";

const frame = recordOf(layout, "frame");
const block = recordOf(layout, "calibration");
const COEFFICIENTS = [
  "offset",
  "gain",
  "temperature_effect",
  "gain_temperature",
  "curvature",
  "reference_temperature",
].map((id) => block.fields[fieldIndex(block, id)]!);
const NOT_MEASURED = -32_768;
const NOT_STATED = 65_535;

const COPIES = ["copy 1", "copy 2", "no calibration"];
const AMBIENTS = ["an ambient", "no ambient", "an ambient without uncertainty"];
const REASONS = ["layout-unknown", "fingerprint-mismatch", "slots-both-bad", "slots-contradict", "value-out-of-range"];
const endText = (id: string, what: string) => `${id} ${what}`;

const TEMPERATURES = {
  none: "temperature not measured",
  zero: "temperature below zero",
  under: "temperature one step below the calibrated",
  low: "temperature at the lowest calibrated",
  high: "temperature at the highest calibrated",
  over: "temperature one step above the calibrated",
};
const GAUGES = {
  negative: "gauge pressure below zero",
  zero: "gauge pressure zero",
  positive: "gauge pressure above zero",
  span: "gauge pressure at the calibrated span",
  beyond: "gauge pressure beyond the calibrated span",
  none: "pressure not measured",
};

const LIMITS = {
  before: "beyond the limit before the gain alone [value-out-of-range]",
  after: "beyond the limit after the gain alone [value-out-of-range]",
};
const UNIT_GAIN = 2 ** 20;

interface Reading {
  readonly slot: "a" | "b";
  readonly calibration_copy: 1 | 2 | null;
  readonly absolute_raw: number | null;
  readonly gauge_raw: number | null;
  readonly expanded_uncertainty_pa: string | null;
}

function goodTexts(vector: AnyVector): string[] {
  const reading = vector.expected as unknown as Reading;
  const ambient = vector.ambient as { expanded_uncertainty_pa: number | null } | null;
  const user = bytesOf(vector.user_words_0_31 as string);
  const at = reading.slot === "a" ? 16 : 32;
  const sample = user.subarray(at, at + frame.bytes);
  const temperature = rawIn(sample, frame.fields[fieldIndex(frame, "temperature")]!)!;
  const copy = COPIES[reading.calibration_copy === null ? 2 : reading.calibration_copy - 1]!;
  const around = AMBIENTS[ambient === null ? 1 : ambient.expanded_uncertainty_pa === null ? 2 : 0]!;
  const texts = [`slot ${reading.slot}`, `${copy}, ${around}`];
  if (temperature === NOT_MEASURED) texts.push(TEMPERATURES.none);
  else if (temperature < 0) texts.push(TEMPERATURES.zero);
  if (reading.gauge_raw !== null) {
    const sign = reading.gauge_raw < 0 ? "negative" : reading.gauge_raw === 0 ? "zero" : "positive";
    texts.push(GAUGES[sign]);
  } else if (reading.absolute_raw === null) texts.push(GAUGES.none);
  return reading.calibration_copy === null ? texts : [...texts, ...blockTexts(vector, reading, temperature)];
}

/** What the block in force says of this reading. */
function blockTexts(vector: AnyVector, { calibration_copy, gauge_raw }: Reading, temperature: number): string[] {
  const bytes = bytesOf(vector.user_words_40_71 as string).subarray((calibration_copy! - 1) * block.bytes);
  const raw = (id: string) => rawIn(bytes, block.fields[fieldIndex(block, id)]!)!;
  const texts: string[] = [];
  const [low, high] = [100 * raw("temperature_low"), 100 * raw("temperature_high")];
  if (temperature === low - 1) texts.push(TEMPERATURES.under);
  if (temperature === low) texts.push(TEMPERATURES.low);
  if (temperature === high) texts.push(TEMPERATURES.high);
  if (temperature === high + 1) texts.push(TEMPERATURES.over);
  if (gauge_raw === raw("span") * 100 * 128) texts.push(GAUGES.span);
  if (gauge_raw !== null && gauge_raw > raw("span") * 100 * 128) texts.push(GAUGES.beyond);
  if (raw("expanded_uncertainty") === NOT_STATED) texts.push("calibration without uncertainty");
  for (const field of COEFFICIENTS) {
    if (raw(field.id) === field.min) texts.push(endText(field.id, "lowest"));
    if (raw(field.id) === field.max) texts.push(endText(field.id, "highest"));
  }
  return texts;
}

function badTexts({ user_words_40_71, expected: { reason } }: AnyVector): string[] {
  const texts = [`[${reason}]`];
  if (reason !== "value-out-of-range") return texts;
  const gain = rawIn(bytesOf(user_words_40_71 as string), block.fields[fieldIndex(block, "gain")]!)!;
  if (gain < UNIT_GAIN) texts.push(LIMITS.before);
  if (gain > UNIT_GAIN) texts.push(LIMITS.after);
  return texts;
}

export const readingGroup: Group = {
  name: "readings: ambient, calibration, uncertainty, ends",
  wanted: [
    "slot a",
    "slot b",
    ...COPIES.flatMap((copy) => AMBIENTS.map((ambient) => `${copy}, ${ambient}`)),
    "calibration without uncertainty",
    ...Object.values(TEMPERATURES),
    ...Object.values(GAUGES),
    ...COEFFICIENTS.flatMap(({ id }) => [endText(id, "lowest"), endText(id, "highest")]),
    ...REASONS.map((reason) => `[${reason}]`),
    ...Object.values(LIMITS),
  ],
  shown(files) {
    const single = vectorsOfKind(files, "calibrated-reading").filter(({ expected }) => !expected.also);
    return new Set(
      single.flatMap((vector) => (vector.expected.verdict === "good" ? goodTexts(vector) : badTexts(vector))),
    );
  },
};
