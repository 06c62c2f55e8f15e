/** What `plyframe match` prints. */
import { type Candidate, type Complex, dbOf } from "../../../sim/index.ts";
import type { Assumption } from "../scenario-file.ts";
import { columns, fold, paint } from "../terminal.ts";
import type { Budget, MatchResult } from "./match-result.ts";
import type { MatchScenario } from "./match-scenario.ts";

/** Sentences are folded at this width. */
export const WIDTH = 118;

/** Inductors shown beside the one chosen. */
const SHOWN = 5;

export function matchLines(scenario: MatchScenario, result: MatchResult): string[] {
  return [
    paint.bold(scenario.title),
    ...columns(headRows(scenario, result)),
    "",
    ...inductorLines(scenario, result),
    "",
    ...columns(matchRows(scenario, result)),
    "",
    paint.bold(`Link at ${mhz(result.budgetHz)} MHz, where tau is lowest, and ${scenario.distanceM} m`),
    ...columns(linkRows(result), [1, 2]),
    ...rangeNotes(scenario, result),
    "",
    ...exposureLines(scenario, result),
    "",
    ...assumedLines(scenario.assumed),
  ];
}

function headRows({ antennaSource, chipTurnOnDbm, bandName }: MatchScenario, result: MatchResult): string[][] {
  const at = `at ${mhz(result.middleHz)} MHz`;
  const phantom = result.phantom.map(({ tissue, permittivity, conductivitySPerM, depthM }, i) => {
    const dielectric = `permittivity ${permittivity.toFixed(1)}, conductivity ${conductivitySPerM.toFixed(2)} S/m`;
    const what = `${tissue.replace("_", " ")}: ${dielectric}, field 1/e at ${(depthM * 1000).toFixed(0)} mm`;
    return [i === 0 ? "phantom" : "", what];
  });
  return [
    ["antenna", `${ohm(result.antennaOhm)} ${at}, from ${antennaSource}`],
    ["chip", `${ohm(result.chipOhm)} ${at}, turns on at ${chipTurnOnDbm} dBm`],
    ["band", bandName],
    ...phantom,
  ];
}

function inductorLines({ goal, values }: MatchScenario, { ranked }: MatchResult): string[] {
  const bare = ranked.find(({ inductor }) => inductor === null)!;
  const shown = [...new Set([...ranked.slice(0, SHOWN), bare])];
  const rows = shown.map((candidate, i) => {
    const { worst, worstHz, mean } = candidate;
    return [inductorName(candidate), worst.toFixed(3), mhz(worstHz), mean.toFixed(3), i === 0 ? "chosen" : ""];
  });
  const title = `Series inductor of ${values} with the highest ${goal} power transmission coefficient tau over the band`;
  return [paint.bold(title), ...columns([["inductor", "worst", "at MHz", "mean", ""], ...rows], [0, 1, 2, 3])];
}

function matchRows({ tau, trials, seed }: MatchScenario, { chosen, bandwidth, yield: made, bodeFano }: MatchResult) {
  const percent = (share: number) => (100 * share).toFixed(1);
  const worst = `${chosen.worst.toFixed(3)} at worst (${dbOf(chosen.worst).toFixed(2)} dB), ${chosen.best.toFixed(3)} at best`;
  const width = bandwidth && (bandwidth.highHz - bandwidth.lowHz) / 1e6;
  const open = bandwidth && (bandwidth.lowOpen || bandwidth.highOpen) ? ", the end of the antenna's data" : "";
  const limits = bandwidth && `${mhz(bandwidth.lowHz)} to ${mhz(bandwidth.highHz)} MHz${open}`;
  return [
    ["tau over the band", worst],
    [
      `bandwidth at tau ${tau}`,
      bandwidth ? `${width!.toFixed(1)} MHz: ${limits}` : "none: tau does not reach it in the band",
    ],
    [
      `yield at tau ${tau}`,
      `${made.passed} of ${trials} pass: ${percent(made.share)} % (95 % interval ${percent(made.low)} to ${percent(made.high)} %, seed ${seed})`,
    ],
    [
      "Bode-Fano bound",
      bodeFano > 0.999
        ? "does not limit here: a lossless match of many parts could hold tau above 0.999 all over the band"
        : `no lossless match of this chip, whatever its parts, holds tau above ${bodeFano.toFixed(3)} all over the band`,
    ],
  ];
}

function linkRows(result: MatchResult): string[][] {
  const { dry, wet } = result.budgets;
  const row = (name: string, unit: string, of: (budget: Budget) => number, digits = 1) => [
    name,
    of(dry).toFixed(digits),
    of(wet).toFixed(digits),
    unit,
  ];
  return [
    ["", "dry", "wet", ""],
    row("dressing and body, one way", "dB", ({ excessLossDb }) => excessLossDb),
    row("power into the chip", "dBm", ({ chipDbm }) => chipDbm),
    row("turn-on power at the reader's port", "dBm", (budget) => budget.turnOnDbm),
    row("forward margin", "dB", ({ forwardMarginDb }) => forwardMarginDb),
    row("backscatter at the reader's port", "dBm", (budget) => budget.backscatterDbm),
    row("backscatter margin", "dB", ({ backscatterMarginDb }) => backscatterMarginDb),
    row("maximum distance at this power", "m", ({ rangeM }) => rangeM, 2),
    row("maximum distance at the legal limit", "m", ({ rangeAtLimitM }) => rangeAtLimitM, 2),
    ["limited by", dry.limitedBy, wet.limitedBy, ""],
  ];
}

function rangeNotes({ rule, distanceM, antennaSizeM, links }: MatchScenario, result: MatchResult): string[] {
  const { limitDbm, eirpDbm, farFieldFromM, budgets, crossSectionDbsm } = result;
  const limit = `${limitDbm.toFixed(2)} dBm EIRP (${rule.limitW} W ${rule.against.toUpperCase()}; ${rule.source})`;
  const near = `${farFieldFromM.toFixed(2)} m (lambda/2pi and 2D^2/lambda for an antenna of ${antennaSizeM} m)`;
  const inNearField = Math.min(distanceM, budgets.wet.rangeM, budgets.dry.rangeM) < farFieldFromM;
  return [
    `Radiated: ${eirpDbm.toFixed(2)} dBm EIRP; limit ${limit}.`,
    ...(eirpDbm > limitDbm
      ? [warning(`this radiates ${(eirpDbm - limitDbm).toFixed(1)} dB more than the limit.`)]
      : []),
    ...(result.overConducted
      ? [warning(`${links.dry.conductedDbm} dBm into the antenna is more than ${rule.conductedW} W.`)]
      : []),
    "Forward margin: power into the chip less its turn-on power. Backscatter margin: power of the modulation at the" +
      " reader's port, |rho1 - rho2|^2/4 of what the tag's antenna takes up, less the reader's sensitivity; differential" +
      ` cross-section by the same definition ${crossSectionDbsm.toFixed(1)} dBsm (without /4: 6.0 dB more).`,
    "Wetness detunes the antenna too, which a loss does not show: measure the antenna wet and run this again.",
    inNearField
      ? warning(`nearer than ${near} these far-field sums do not hold; measure there.`)
      : `Far-field sums: not valid nearer than ${near}.`,
  ].flatMap((sentence) => fold(sentence, WIDTH));
}

function exposureLines({ duty }: MatchScenario, { exposures, eirpDbm }: MatchResult): string[] {
  const rows = exposures.map(({ level, wattPerM2, distanceM, usable }) => [
    level.title,
    `${wattPerM2.toFixed(2)} W/m2`,
    `${distanceM.toFixed(3)} m`,
    usable ? "" : "near field: not usable",
    level.source,
  ]);
  const share = `${(100 * duty).toFixed(0)} % of the time`;
  return [
    paint.bold(`Exposure: where ${eirpDbm.toFixed(2)} dBm EIRP, on ${share}, falls to the reference level`),
    ...columns(rows, [1, 2]),
    ...fold(
      warning(
        "a reader held at a limb is nearer than this. There no distance answers, only an assessment of SAR (EN 50364 and" +
          " EN IEC 62369-1 for such devices, from memory), or less power or duty.",
      ),
      WIDTH,
    ),
  ];
}

/** Values that the scenario did not give: those that rest on something, each with what; then the mere choices. */
export function assumedLines(assumed: readonly Assumption[]): string[] {
  if (assumed.length === 0) return [];
  const resting = assumed.filter(({ standing }) => standing !== null);
  const choices = assumed
    .filter(({ standing }) => standing === null)
    .map(({ path, value }) => `${path} ${shown(value)}`);
  return [
    paint.bold("Assumed, not given; each can be set in the scenario:"),
    ...resting.flatMap(({ path, value, standing }) =>
      fold(`${path} ${shown(value)}: ${standing}`, WIDTH - 4).map((line, i) => `${i === 0 ? "  " : "    "}${line}`),
    ),
    ...(choices.length ? fold(`Chosen for you: ${choices.join(", ")}`, WIDTH - 2).map((line) => `  ${line}`) : []),
  ];
}

/** Lists and objects without the quotes and braces of JSON. */
function shown(value: unknown): string {
  if (Array.isArray(value)) return value.map(shown).join("; ");
  if (typeof value !== "object" || value === null) return String(value);
  return Object.entries(value)
    .map(([name, inner]) => `${name} ${inner}`)
    .join(", ");
}

export function warning(text: string): string {
  return `${paint.yellow("Caution:")} ${text}`;
}

function inductorName({ inductor }: Candidate): string {
  return inductor ? `${Number((inductor.inductanceH * 1e9).toPrecision(6))} nH` : "none";
}

function mhz(hz: number): string {
  return (hz / 1e6).toFixed(2);
}

function ohm({ re, im }: Complex): string {
  return `${re.toFixed(1)} ${im < 0 ? "-" : "+"} ${Math.abs(im).toFixed(1)}j ohm`;
}
