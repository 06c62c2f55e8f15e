/** Whether what came over the socket has the shape of a message, as far as a page would come to harm by one that has not. */
import type { ServerMessage } from "./messages.ts";

type Check = (value: unknown) => boolean;

/** Checks by member; members that are not named may hold anything. */
type Shape = Readonly<Record<string, Check>>;

const number: Check = (value) => typeof value === "number" && Number.isFinite(value);
const text: Check = (value) => typeof value === "string";
const orNull =
  (check: Check): Check =>
  (value) =>
    value === null || check(value);
const object =
  (shape: Shape): Check =>
  (value) =>
    typeof value === "object" &&
    value !== null &&
    Object.entries(shape).every(([name, check]) => check((value as Readonly<Record<string, unknown>>)[name]));
const list =
  (entry: Check): Check =>
  (value) =>
    Array.isArray(value) && value.every(entry);

const mark: Shape = { id: number, kind: text, time_s: number, at: text, text };
const words: Shape = { time_s: number, epc: text, bank: text, word: number, hex: text };
const reading: Shape = {
  epc: text,
  sequence: number,
  age_s: number,
  gauge_mmhg: orNull(number),
  expanded_uncertainty_mmhg: orNull(number),
  absolute_hpa: orNull(number),
  temperature_cel: orNull(number),
  supply_v: orNull(number),
  quality: list(text),
};
const timed = object({ time_s: number, reading: object(reading) });
const state: Shape = { state: text, sentence: orNull(text), attempt: orNull(number), next_try_s: orNull(number) };
const calibration: Shape = {
  phase: text,
  epc: orNull(text),
  page: orNull(number),
  step: orNull(object({ number, of: number, load_mmhg: number })),
  stability: orNull(object({ count: number, least_count: number })),
  points: list(object({ step: number, reference_mmhg: number, sensor_gauge_mmhg: number })),
  fit: orNull(
    object({ budget: object({}), model: object({}), findings: list(object({ code: text, sentence: text })) }),
  ),
  csv: orNull(text),
};

const point: Shape = {
  epc: text,
  sequence: number,
  time_s: number,
  gauge_mmhg: orNull(number),
  expanded_uncertainty_mmhg: orNull(number),
};

const shapes: { readonly [Type in ServerMessage["type"]]: Shape } = {
  hello: {
    contract: number,
    page: number,
    program: text,
    session: text,
    source: text,
    source_name: text,
    scene: orNull(text),
    speed: number,
    layout: number,
    fingerprint: text,
    cautions: list(text),
    band_scheme: object({ id: text, source: text, edges: text }),
    supply_low_v: number,
    sites: list(object({ epc: text, site: text })),
    started: text,
    marks: list(object(mark)),
    state: object(state),
    words: list(object(words)),
    calibration: object(calibration),
  },
  past: {
    points: list(object(point)),
    left_out: number,
    latest: list(timed),
  },
  readings: {
    now_s: number,
    earlier: list(object(point)),
    readings: list(timed),
    waveforms: list(object({ time_s: number, waveform: object({ epc: text }) })),
    unread: list(object({ time_s: number, epc: text, reason: text, sentence: text })),
  },
  words: { words: list(object(words)) },
  state,
  presence: {
    now_s: number,
    rounds_per_second: orNull(number),
    tags: list(object({ epc: text, seen: number, failed: number, missed: orNull(number), age_s: number })),
    dropped: number,
  },
  mark: { mark: object(mark) },
  unmarked: { id: number },
  calibration,
  error: { code: text, sentence: text },
};

/** The message of a text; null for what no server of ours sends. */
export function parseServerMessage(said: unknown): ServerMessage | null {
  if (typeof said !== "string") return null;
  try {
    const message = JSON.parse(said) as { readonly type?: unknown } | null;
    const type = String(message?.type);
    if (!Object.hasOwn(shapes, type)) return null;
    return object(shapes[type as ServerMessage["type"]])(message) ? (message as ServerMessage) : null;
  } catch {
    return null;
  }
}
