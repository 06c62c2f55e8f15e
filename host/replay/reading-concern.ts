/** Which field a wrong reading is about: the arithmetic is done again with one field left out, until the wrong answer appears. */
import {
  type Coefficients,
  calibratedAbsolute,
  calibratedGauge,
  chooseSlot,
  decode,
  layout,
  parseHex,
  rawOf,
  recordOf,
} from "../../protocol/index.ts";
import type { ReplayCase } from "./replay-case.ts";

/** Coefficients that change nothing, by their ids. */
const NEUTRAL = {
  offset: 0,
  gain: 1_048_576,
  temperature_effect: 0,
  gain_temperature: 0,
  curvature: 0,
  reference_temperature: 0,
} as const;

/** Status flags beside which no uncertainty is stated: sensor_fault, pressure_at_limit, supply_low. */
const DOUBTFUL = 4 | 8 | 64;

type Ids = { readonly [id in keyof typeof NEUTRAL]: number };

export function readingConcern(
  asked: ReplayCase,
  key: string,
  came: ReadonlyMap<string, string>,
  reason: string | null,
): string {
  const { expected } = asked;
  if (expected.verdict === "bad") return refusedConcern(asked);
  if (reason === "layout-unknown") return "header.layout";
  if (reason === "fingerprint-mismatch") return "header.fingerprint";
  if (reason !== null) return reason === "slots-contradict" ? "frame.sequence" : "frame.seal";
  const right = new Map(expected.keys.map((one) => [one.key, one.text]));
  if (key === "slot") return "frame.sequence";
  if (key === "copy") return copyConcern(asked);
  if (right.get("absolute_raw") === "none") return "frame.pressure";
  if (right.get("gauge_raw") === "none") return "ambient_report.pressure";
  if (key === "uncertainty_thousandths_pa") return uncertaintyConcern(asked);
  if (key === "gauge_thousandths_mmhg") return "frame.pressure";
  return leftOut(asked, came, right) ?? (key === "absolute_raw" ? "calibration.offset" : "calibration.gain");
}

/** A copy that is whole is passed over for its sensor alone. */
function copyConcern({ given }: ReplayCase): string {
  const blocks = parseHex(new Map(given).get("calibration")!);
  const isWhole = blocks instanceof Uint8Array && "raws" in decode(recordOf(layout, "calibration"), blocks, 0, 32);
  return isWhole ? "calibration.sensor_serial" : "calibration.seal";
}

function refusedConcern({ expected }: ReplayCase): string {
  const path = expected.keys.find(({ key }) => key === "path")!.text;
  if (expected.reason === "slots-contradict") return "frame.sequence";
  if (expected.reason === "slots-both-bad") return "frame.seal";
  return path === "reading.gauge" ? "calibration.span" : path;
}

/** The uncertainty is that of calibration and ambient together, and none where the calibration does not reach. */
function uncertaintyConcern(asked: ReplayCase): string {
  const right = asked.expected.keys.find(({ key }) => key === "uncertainty_thousandths_pa")!.text;
  const scene = sceneOf(asked);
  if (right !== "none" || !scene) return "calibration.expanded_uncertainty";
  const { temperature, raws, gauge, status } = scene;
  if ((status & DOUBTFUL) !== 0) return "frame.status";
  if (temperature === null || temperature < 100 * raws.temperature_low!) return "calibration.temperature_low";
  if (temperature > 100 * raws.temperature_high!) return "calibration.temperature_high";
  return gauge !== null && gauge > raws.span! * 12_800 ? "calibration.span" : "calibration.expanded_uncertainty";
}

interface Scene {
  readonly status: number;
  readonly pressure: number;
  readonly temperature: number | null;
  readonly ambient: number | null;
  readonly raws: { readonly [id: string]: number };
  readonly gauge: number | null;
}

/** What the words hold; null where they hold no calibrated reading. */
function sceneOf({ given }: ReplayCase): Scene | null {
  const texts = new Map(given);
  const [memory, blocks] = [parseHex(texts.get("memory")!), parseHex(texts.get("calibration")!)];
  if (!(memory instanceof Uint8Array && blocks instanceof Uint8Array)) return null;
  const { frame } = chooseSlot(recordOf(layout, "frame"), memory, 16, 32);
  const block = [0, 32]
    .map((at) => decode(recordOf(layout, "calibration"), blocks, at, at + 32))
    .find((copy) => "raws" in copy);
  if (!frame || !block || !("raws" in block)) return null;
  const raws = Object.fromEntries(block.record.fields.map(({ id }, i) => [id, block.raws[i]!]));
  const measured = rawOf(frame, "temperature");
  const temperature = measured === -32_768 ? null : measured;
  const pressure = rawOf(frame, "pressure");
  const ambient = texts.get("ambient_raw") === "none" ? null : Number(texts.get("ambient_raw"));
  const scene = { status: rawOf(frame, "status"), pressure, temperature, ambient, raws, gauge: null };
  return { ...scene, gauge: results(scene, raws as unknown as Ids).gauge };
}

function results({ pressure, temperature, ambient }: Omit<Scene, "gauge">, ids: Ids) {
  const c: Coefficients = {
    offset: ids.offset,
    gain: ids.gain,
    temperatureEffect: ids.temperature_effect,
    gainTemperature: ids.gain_temperature,
    curvature: ids.curvature,
    referenceTemperature: ids.reference_temperature,
  };
  const absolute = calibratedAbsolute(pressure, temperature, c);
  return { absolute, gauge: ambient === null ? null : calibratedGauge(absolute, ambient, temperature, c) };
}

/** The one coefficient whose absence, or second use, gives what came. */
function leftOut(
  asked: ReplayCase,
  came: ReadonlyMap<string, string>,
  right: ReadonlyMap<string, string>,
): string | null {
  const scene = sceneOf(asked);
  if (!scene) return null;
  const own = scene.raws as unknown as Ids;
  for (const id of Object.keys(NEUTRAL) as (keyof Ids)[]) {
    for (const value of [NEUTRAL[id], 2 * own[id]]) {
      const { absolute, gauge } = results(scene, { ...own, [id]: value });
      const [cameAbsolute, cameGauge] = [came.get("absolute_raw"), came.get("gauge_raw")];
      const changes = `${absolute}` !== right.get("absolute_raw") || `${gauge}` !== right.get("gauge_raw");
      if (changes && `${absolute}` === cameAbsolute && `${gauge}` === cameGauge) return `calibration.${id}`;
    }
  }
  return null;
}
