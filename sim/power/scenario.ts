/** A power budget's scenario: the JSON that a person writes, checked field by field, and the design that it stands for. */
import { type FirmwareCost, firmwareCosts } from "../../protocol/firmware/cost.ts";
import type { TagDesign } from "./life.ts";
import { peakA } from "./load.ts";
import { factorOf, parameters } from "./parameters.ts";
import { CLASS_TABLE, type EfficiencyPoint, type EfficiencyTable } from "./rectifier.ts";
import { type DeratingPoint, lossV } from "./store.ts";

/** Numbers by path, in the units of their names. */
export type Values = Readonly<Record<string, number>>;

export interface BudgetScenario {
  readonly title: string;
  readonly values: Values;
  readonly target: FirmwareCost["target"];
  readonly rectifier: EfficiencyTable;
  readonly derating: readonly DeratingPoint[];
}

/** What the JSON holds, once its schema has judged it; what is left out is default. */
export interface BudgetContent {
  readonly title?: string;
  readonly processor?: { readonly target?: FirmwareCost["target"] };
  readonly rectifier?: {
    readonly table?: readonly {
      readonly power_dbm: number;
      readonly efficiency_percent: number;
      readonly store_v?: number;
    }[];
  };
  readonly store?: { readonly derating?: readonly { readonly bias_v: number; readonly share_percent: number }[] };
}

/** What is wrong with a scenario, and where. */
export interface Problem {
  readonly path: string;
  readonly sentence: string;
}

const DEFAULT_TITLE = "A tag with class values (invented)";
const DEFAULT_TARGET: FirmwareCost["target"] = "msp430";

/** A ceramic capacitor's class, from memory; a real one's data sheet belongs here. */
export const CLASS_DERATING: readonly DeratingPoint[] = [
  { biasV: 0, share: 1 },
  { biasV: 1.5, share: 0.95 },
  { biasV: 3.3, share: 0.8 },
];

/** A scenario from content within its schema, or every contradiction in it. */
export function scenarioOf(content: BudgetContent): BudgetScenario | readonly Problem[] {
  const values: Record<string, number> = {};
  for (const { path, default: value } of parameters) {
    const [group, name] = path.split(".") as [string, string];
    const members = (content as Readonly<Record<string, Readonly<Record<string, number>> | undefined>>)[group];
    values[path] = members?.[name] ?? value;
  }
  const scenario = {
    title: content.title ?? DEFAULT_TITLE,
    values,
    target: content.processor?.target ?? DEFAULT_TARGET,
    rectifier: content.rectifier?.table?.map(efficiencyPoint) ?? CLASS_TABLE,
    derating:
      content.store?.derating?.map((point) => ({ biasV: point.bias_v, share: point.share_percent / 100 })) ??
      CLASS_DERATING,
  };
  const problems = [
    ...rectifierProblems(scenario.rectifier),
    ...deratingProblems(scenario.derating),
    ...contradictionsOf(scenario),
  ];
  return problems.length > 0 ? problems : scenario;
}

function efficiencyPoint(row: { power_dbm: number; efficiency_percent: number; store_v?: number }): EfficiencyPoint {
  const point = { powerDbm: row.power_dbm, efficiency: row.efficiency_percent / 100 };
  return row.store_v === undefined ? point : { ...point, storeV: row.store_v };
}

/** The scenario with other values; null when they contradict each other. */
export function withValues(scenario: BudgetScenario, changes: Values): BudgetScenario | null {
  const changed = { ...scenario, values: { ...scenario.values, ...changes } };
  return contradictionsOf(changed).length > 0 ? null : changed;
}

/** Values that are each allowed and cannot be together. */
function contradictionsOf(scenario: BudgetScenario): Problem[] {
  const v = (path: string) => inUnits(scenario.values, path);
  const problems: Problem[] = [];
  const rising = (low: string, high: string) => {
    if (v(low) < v(high)) return;
    problems.push({ path: low, sentence: `${v(low)} V must be below ${high}, which is ${v(high)} V` });
  };
  rising("supervisor.off_v", "supervisor.on_v");
  rising("supervisor.on_v", "store.clamp_v");
  rising("cold_start.voltage_v", "supervisor.off_v");
  if (v("firmware.low_mv") > v("firmware.start_mv")) rising("firmware.low_mv", "firmware.start_mv");
  if (v("firmware.start_mv") > v("firmware.full_mv")) rising("firmware.start_mv", "firmware.full_mv");
  if (v("store.start_voltage_v") > v("store.clamp_v")) rising("store.start_voltage_v", "store.clamp_v");
  if (v("field.reply_ms") >= v("field.round_ms")) {
    problems.push({
      path: "field.reply_ms",
      sentence: "the tag's answers take as long as the whole field.round_ms, or longer",
    });
  }
  if (v("answers.power_from_dbm") >= v("answers.power_to_dbm")) {
    problems.push({ path: "answers.power_from_dbm", sentence: "must be below answers.power_to_dbm" });
  }
  if (![0, 16, 256].includes(v("processor.seal_table"))) {
    problems.push({ path: "processor.seal_table", sentence: `${v("processor.seal_table")} is none of 0, 16, 256` });
  }
  if (problems.length > 0) return problems;
  const { supply, load } = designOf(scenario);
  const loss = lossV(supply);
  if (loss >= supply.supervisor.onV) {
    const sentence = `the rail's minimum with regulator.dropout_mv, ${loss} V, must be below supervisor.on_v`;
    return [{ path: "regulator.minimum_rail_v", sentence }];
  }
  const dropV = supply.store.esrOhm * (peakA(load) + supply.regulator.quiescentA + supply.supervisor.currentA);
  if (dropV >= supply.supervisor.onV - loss) {
    const sentence = `the load's peak drops ${dropV.toPrecision(3)} V across it, more than lies between the supervisor's thresholds`;
    return [{ path: "store.esr_ohm", sentence }];
  }
  return [];
}

/** The design a scenario stands for. */
export function designOf({ values, target, rectifier, derating }: BudgetScenario): TagDesign {
  const v = (path: string) => inUnits(values, path);
  const ms = (path: string) => v(path) * 1000;
  const cost = firmwareCosts.find((entry) => entry.target === target && entry.sealTable === v("processor.seal_table"))!;
  return {
    supply: {
      rectifier,
      store: {
        capacitanceF: v("store.capacitance_uf"),
        leakageOhm: v("store.leakage_megohm"),
        esrOhm: v("store.esr_ohm"),
        clampV: v("store.clamp_v"),
        derating,
      },
      coldStart: {
        voltageV: v("cold_start.voltage_v"),
        powerDbm: v("cold_start.power_dbm"),
        share: v("cold_start.share_percent"),
      },
      supervisor: { onV: v("supervisor.on_v"), offV: v("supervisor.off_v"), currentA: v("supervisor.current_ua") },
      regulator: {
        quiescentA: v("regulator.quiescent_ua"),
        dropoutV: v("regulator.dropout_mv"),
        minimumRailV: v("regulator.minimum_rail_v"),
      },
    },
    load: {
      processor: {
        cost,
        clockHz: v("processor.clock_mhz"),
        cyclesPerInstruction: v("processor.cycles_per_instruction"),
        activeA: v("processor.active_ua_per_mhz") * v("processor.clock_mhz"),
        sleepA: v("processor.sleep_ua"),
        bootS: v("processor.boot_ms"),
      },
      sensor: { conversionS: v("sensor.conversion_ms"), conversionA: v("sensor.current_ua") },
      bridge: {
        readS: v("bridge.read_us"),
        writeS: v("bridge.write_us"),
        settleS: v("bridge.settle_us"),
        currentA: v("bridge.current_ua"),
      },
      firmware: {
        periodMs: ms("firmware.period_ms"),
        startMv: ms("firmware.start_mv"),
        fullMv: ms("firmware.full_mv"),
        lowMv: ms("firmware.low_mv"),
        conversionMs: ms("firmware.conversion_wait_ms"),
        fruitlessLimit: v("firmware.fruitless_limit"),
        countersEvery: v("firmware.counters_every"),
        burstEvery: v("firmware.burst_every"),
        burstIntervalMs: ms("firmware.burst_interval_ms"),
      },
    },
    field: {
      powerDbm: v("field.power_dbm"),
      dwellS: v("field.dwell_s"),
      hopS: v("field.hop_ms"),
      roundS: v("field.round_ms"),
      replyS: v("field.reply_ms"),
      replyDepth: v("field.reply_depth_percent"),
      handDb: v("field.hand_db"),
      handPeriodS: v("field.hand_period_s"),
    },
    startV: v("store.start_voltage_v"),
  };
}

/** A number in ampere, farad, hertz, ohm, second, volt, or a share; rounded where the factor leaves a last digit behind. */
function inUnits(values: Values, path: string): number {
  return Number((values[path]! * factorOf(path)).toPrecision(14));
}

/** Level at the chip in a distance: free space from the level in 1 m. */
export function levelAtDistance({ values }: BudgetScenario, distanceM: number): number {
  return values["link.power_at_1_m_dbm"]! - 20 * Math.log10(distanceM);
}

/** Distance in metre at which the level at the chip is this. */
export function distanceOfLevel({ values }: BudgetScenario, levelDbm: number): number {
  return 10 ** ((values["link.power_at_1_m_dbm"]! - levelDbm) / 20);
}

/** Problems of an efficiency table, by its line counted from 1. */
export function rectifierProblems(table: EfficiencyTable): Problem[] {
  const problem = (line: number, sentence: string): Problem[] => [{ path: `rectifier.table[${line}]`, sentence }];
  if (table.length === 0) return [{ path: "rectifier.table", sentence: "holds no line" }];
  const seen = new Set<string>();
  for (const [line, { powerDbm, efficiency, storeV }] of table.entries()) {
    if (!(efficiency >= 0 && efficiency <= 1)) return problem(line, "an efficiency lies from 0 % to 100 %");
    if ((storeV === undefined) !== (table[0]!.storeV === undefined)) {
      return problem(line, "either every line has a voltage or none has");
    }
    const key = `${powerDbm} ${storeV}`;
    if (seen.has(key)) return problem(line, "the same power stands in the table twice");
    seen.add(key);
  }
  return [];
}

function deratingProblems(derating: readonly DeratingPoint[]): Problem[] {
  for (const [line, { biasV, share }] of derating.entries()) {
    const path = `store.derating[${line}]`;
    if (!(share > 0 && share <= 1)) return [{ path, sentence: "a share lies above 0 % and at most at 100 %" }];
    if (line > 0 && biasV <= derating[line - 1]!.biasV)
      return [{ path, sentence: "the bias must rise from line to line" }];
  }
  return [];
}
