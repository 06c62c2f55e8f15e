/** `plyframe budget`: whether a tag's power carries its measurement, how often, and what it hangs on. */
import { type BudgetContent, type BudgetScenario, scenarioOf } from "../../../sim/index.ts";
import { CommandError, EXIT } from "../exit.ts";
import { type BudgetResult, solveBudget } from "../power/budget-result.ts";
import { budgetLines } from "../power/budget-text.ts";
import { linkedTo } from "../power/linked-content.ts";
import { readRectifierFile } from "../power/rectifier-file.ts";
import { readScenario, type ScenarioFile } from "../scenario-file.ts";
import { say, sayJson } from "../terminal.ts";

export interface BudgetOptions {
  readonly match?: string;
  readonly dressing: string;
  readonly voltagePlot?: string;
  readonly ratePlot?: string;
  readonly tornadoPlot?: string;
  readonly of?: string;
  readonly json?: boolean;
}

type Content = BudgetContent & { readonly rectifier?: { readonly file?: string } };

/** What --of may name, in the order of the questions. */
const TORNADOS = ["first-frame", "rate", "capacitor", "losses"];

export async function budget(file: string | undefined, options: BudgetOptions): Promise<void> {
  const own = readScenario<Content>(file, "budget.schema.json");
  const read = options.match === undefined ? own : linkedTo(own, options.match, options.dressing);
  const scenario = judged(read);
  const drawn = TORNADOS.indexOf(options.of ?? "rate");
  if (drawn < 0) throw new CommandError(EXIT.usage, `--of ${options.of}: there are ${TORNADOS.join(", ")}`);
  const result = solveBudget(scenario);
  if (options.json) sayJson(budgetJson(scenario, result, read));
  else for (const line of budgetLines(scenario, result, read.assumed)) say(line);
  const { voltagePlot, ratePlot, tornadoPlot } = options;
  if (voltagePlot === undefined && ratePlot === undefined && tornadoPlot === undefined) return;
  const plots = await import("../power/budget-plots.ts");
  const { writePicture } = await import("../picture-file.ts");
  if (voltagePlot !== undefined) writePicture("--voltage-plot", voltagePlot, plots.voltagePlot(scenario, result));
  if (ratePlot !== undefined) writePicture("--rate-plot", ratePlot, plots.ratePlot(scenario, result));
  if (tornadoPlot !== undefined) writePicture("--tornado-plot", tornadoPlot, plots.tornadoPlot(result, drawn));
}

function judged({ content, fileOf, refusal }: ScenarioFile<Content>): BudgetScenario {
  const name = content.rectifier?.file;
  const table = name === undefined ? content.rectifier?.table : readRectifierFile(fileOf(name));
  const scenario = scenarioOf(table ? { ...content, rectifier: { table } } : content);
  if ("title" in scenario) return scenario;
  const sentences = scenario.map(({ path, sentence }) => refusal(path, sentence).message);
  throw new CommandError(EXIT.usage, sentences.join("\nplyframe: "));
}

function budgetJson(scenario: BudgetScenario, result: BudgetResult, { assumed }: ScenarioFile<Content>) {
  const { life, questions, answers, rates, tornados } = result;
  return {
    title: scenario.title,
    distance_m: result.distanceM,
    store_uc: result.storeUc,
    first_frame_uc: result.firstFrameUc,
    sample_uc: result.sampleUc,
    answers: questions.map(({ id, scale }, i) => {
      const answer = answers[i]!;
      return "value" in answer ? { id, value: answer.value * scale } : { id, value: null, never: answer.never };
    }),
    next_e6_uf: result.nextE6Uf,
    life: {
      seconds: life.seconds,
      frames: life.frames,
      samples_given_up: life.skipped,
      starts: life.starts,
      losses: life.losses,
      lost_in: life.lostIn,
      end_v: life.endV,
    },
    rates: rates.map(({ powerDbm, distanceM, rate }) => ({
      power_dbm: powerDbm,
      distance_m: distanceM,
      rate_per_s: "value" in rate ? rate.value : null,
    })),
    sensitivity: questions.map(({ id, scale }, i) => ({
      id,
      bars: tornados[i]!.map(({ path, low, high, atLow, atHigh }) => ({
        path,
        from: low,
        to: high,
        at_from: atLow === null ? null : atLow * scale,
        at_to: atHigh === null ? null : atHigh * scale,
      })),
    })),
    assumed,
  };
}
