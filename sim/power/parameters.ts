/**
 * Every number of a power budget: its place in a scenario, limits, default and what the default rests on. Units stand in the
 * names. vectors/schema/budget.schema.json says the same in JSON, which a test sees to.
 */
export interface Parameter {
  /** Group and name in the scenario, with a point between them. */
  readonly path: string;
  readonly default: number;
  /** Limits, both included. */
  readonly low: number;
  readonly high: number;
  /** What the default rests on. */
  readonly standing: string;
  readonly meaning: string;
  /** How far the tornado moves it either way: a share of it, or decibels for a level; 0: it is a choice, not a quantity. */
  readonly swing: number;
}

const CLASS = "class value, from memory";
const FIRMWARE = "the firmware's setting";
const SCENE = "invented scene";

const row = (
  path: string,
  value: number,
  [low, high]: readonly [number, number],
  swing: number,
  standing: string,
  meaning: string,
): Parameter => ({ path, default: value, low, high, standing, meaning, swing });

export const parameters: readonly Parameter[] = [
  row("field.power_dbm", -3, [-60, 30], 1, SCENE, "level at the chip while the reader transmits"),
  row("field.dwell_s", 4, [0.001, 10000], 0.2, CLASS, "time on one channel"),
  row("field.hop_ms", 100, [0, 10000000], 0.2, CLASS, "silence between two channels; 0 s: none"),
  row("field.round_ms", 100, [1, 10000000], 0.2, SCENE, "time from one inventory round to the next"),
  row("field.reply_ms", 3, [0, 1000000], 0.2, CLASS, "time of the tag's answers in a round"),
  row(
    "field.reply_depth_percent",
    50,
    [0, 100],
    0.2,
    CLASS,
    "share of the power that a reply keeps from the rectifier",
  ),
  row("field.hand_db", 1, [0, 40], 0.2, SCENE, "how far the moving hand takes the level up and down"),
  row("field.hand_period_s", 2, [0.01, 10000], 0.2, SCENE, "period of the hand"),
  row(
    "link.power_at_1_m_dbm",
    -11.5,
    [-60, 30],
    0,
    "3.28 W EIRP, -12 dBi on the body, half the power lost to polarisation, 0.9 matched",
    "level at the chip in 1 m; free space from there",
  ),
  row("store.capacitance_uf", 100, [0.001, 10000000], 0.2, SCENE, "nominal capacitance"),
  row("store.leakage_megohm", 20, [1e-6, 1e9], 0.2, CLASS, "insulation resistance"),
  row("store.esr_ohm", 0.5, [0, 1000000], 0.2, CLASS, "series resistance"),
  row("store.clamp_v", 3.3, [0.1, 100], 0.05, CLASS, "a shunt holds the store here"),
  row("store.start_voltage_v", 0, [0, 100], 0, SCENE, "voltage at the beginning"),
  row("cold_start.voltage_v", 0.6, [0, 100], 0.2, CLASS, "below it the charger does not run yet"),
  row("cold_start.power_dbm", -18, [-60, 30], 1, CLASS, "least level for charging below it"),
  row("cold_start.share_percent", 30, [0, 100], 0.2, CLASS, "share of the efficiency below it"),
  row("supervisor.on_v", 2.4, [0.1, 100], 0.05, CLASS, "the load is switched on"),
  row("supervisor.off_v", 1.7, [0.1, 100], 0.05, CLASS, "the load is switched off"),
  row("supervisor.current_ua", 0.3, [0, 1000000], 0.2, CLASS, "drawn at all times above the cold start"),
  row("regulator.quiescent_ua", 0.5, [0, 1000000], 0.2, CLASS, "on top of the load"),
  row("regulator.dropout_mv", 50, [0, 10000], 0.2, CLASS, "least voltage across it"),
  row("regulator.minimum_rail_v", 1.62, [0.1, 100], 0.05, CLASS, "least voltage at which the load works"),
  row("processor.seal_table", 16, [0, 256], 0, FIRMWARE, "entries of the seal's table: 0, 16 or 256"),
  row("processor.clock_mhz", 1, [0.001, 1000], 0.2, CLASS, "clock while active"),
  row(
    "processor.cycles_per_instruction",
    1.5,
    [0.1, 10],
    0.2,
    CLASS,
    "where instructions were counted instead of cycles",
  ),
  row("processor.active_ua_per_mhz", 120, [0, 1000000], 0.2, CLASS, "current while active"),
  row("processor.sleep_ua", 0.8, [0, 1000000], 0.2, CLASS, "current while asleep"),
  row("processor.boot_ms", 1, [0, 10000], 0.2, CLASS, "from the supply's coming to the first instruction"),
  row("sensor.conversion_ms", 9, [0, 10000], 0.2, CLASS, "one conversion of pressure and temperature"),
  row("sensor.current_ua", 700, [0, 1000000], 0.2, CLASS, "current while converting"),
  row("bridge.read_us", 50, [0, 1000000], 0.2, CLASS, "reading one word through the bridge"),
  row("bridge.write_us", 1000, [0, 1000000], 0.2, CLASS, "writing one word"),
  row("bridge.settle_us", 0, [0, 1000000], 0.2, CLASS, "until all words are in the cells"),
  row("bridge.current_ua", 100, [0, 1000000], 0.2, CLASS, "while reading, writing and settling"),
  row("firmware.period_ms", 100, [10, 60000], 0, FIRMWARE, "sampling period"),
  row("firmware.start_mv", 2000, [100, 4095], 0.05, FIRMWARE, "a sample is begun at or above this"),
  row("firmware.full_mv", 2300, [100, 4095], 0.05, FIRMWARE, "the same, after starts without a frame"),
  row("firmware.low_mv", 1800, [100, 4095], 0.05, FIRMWARE, "nothing is written below this"),
  row("firmware.conversion_wait_ms", 10, [1, 10000], 0, FIRMWARE, "waits this long for a conversion, twice at most"),
  row("firmware.fruitless_limit", 3, [1, 255], 0, FIRMWARE, "starts without a frame before it waits for a full store"),
  row("firmware.counters_every", 16, [1, 254], 0, FIRMWARE, "frames between two writes of the counters"),
  row("firmware.burst_every", 100, [0, 65535], 0, FIRMWARE, "frames between two bursts; 0: none"),
  row("firmware.burst_interval_ms", 40, [1, 10000], 0, FIRMWARE, "between two samples of a burst"),
  row("answers.life_s", 60, [1, 86400], 0, SCENE, "how long the tag's life is followed"),
  row("answers.power_from_dbm", -15, [-60, 30], 0, SCENE, "the curve of rate over power begins here"),
  row("answers.power_to_dbm", 5, [-60, 30], 0, SCENE, "and ends here"),
];

/** Ends of names that are no unit of the International System, longest first, and what one of them is in it. */
const UNITS: readonly (readonly [end: string, factor: number])[] = [
  ["_ua_per_mhz", 1e-12],
  ["_megohm", 1e6],
  ["_percent", 1e-2],
  ["_mhz", 1e6],
  ["_uf", 1e-6],
  ["_ua", 1e-6],
  ["_us", 1e-6],
  ["_ms", 1e-3],
  ["_mv", 1e-3],
];

/** What a number of this path has to be multiplied by to be in ampere, farad, hertz, ohm, second, volt, or a share. */
export function factorOf(path: string): number {
  return UNITS.find(([end]) => path.endsWith(end))?.[1] ?? 1;
}
