/** Power: would it run? */
import "../styles/bytes.css";
import "../styles/power.css";
import { el, setText } from "../dom/element.ts";
import type { Mount } from "../shell/view.ts";
import { Budgeter, type Channel } from "./budgeter.ts";
import { makeControl } from "./control.ts";
import type { DrawnWindow, PowerFigures } from "./figures.ts";
import { type BudgetInputs, budgetContentOf, limits, matchContentOf, type Quantity } from "./inputs.ts";
import { runVerdict } from "./run-verdict.ts";
import { verdictCard, verdictLine } from "./verdict-card.ts";
import { plotCaption, statesTable, voltagePlot } from "./voltage-plot.ts";

const QUANTITIES = Object.keys(limits) as Quantity[];
const WINDOWS = ["start", "work"] as const satisfies readonly DrawnWindow[];
const DRESSINGS = ["dry", "wet"] as const;

export const mount: Mount = (host, store, text) => {
  const { tools } = store;
  let figures: PowerFigures | null = null;
  const worker = new Worker(new URL("./budget-worker.ts", import.meta.url), { type: "module" });

  const set = (change: Partial<BudgetInputs>) => {
    tools.budget = { ...tools.budget, ...change };
    drawInputs();
    card.setAttribute("aria-busy", "true");
    budgeter.ask(tools.budget);
  };
  const controls = QUANTITIES.map(
    (quantity) => [quantity, makeControl(quantity, text, (value) => set({ [quantity]: value }))] as const,
  );
  const best = el("button", { type: "button", on: { click: () => set({ inductorNh: null }) } }, text.say("power.best"));
  controls.find(([quantity]) => quantity === "inductorNh")![1].element.append(best);
  const dressings = DRESSINGS.map((dressing) =>
    el("button", { type: "button", on: { click: () => set({ dressing }) } }, text.say(`power.dressing.${dressing}`)),
  );
  const card = el("div", { class: "power-card" });
  const word = el("div", { class: "power-word" });
  const said = el("p", { class: "unseen", role: "status" });
  const windows = WINDOWS.map((window) => {
    const choose = () => {
      tools.drawn = window;
      drawPlot();
    };
    return el("button", { type: "button", on: { click: choose } }, text.say(`power.window.${window}`));
  });
  const canvas = el("div", { class: "voltage" });
  const caption = el("p", { class: "soft" });
  const table = el("div", {});
  const same = el("pre", { tabindex: 0 });
  host.append(
    said,
    el(
      "div",
      { class: "power-layout" },
      word,
      el(
        "form",
        {
          class: "controls",
          "aria-label": text.say("power.controls"),
          on: { submit: (event: Event) => event.preventDefault() },
        },
        ...controls.map(([, { element }]) => element),
        el(
          "div",
          { class: "control picks", role: "group", "aria-label": text.say("power.dressing") },
          el("span", {}, text.say("power.dressing")),
          ...dressings,
        ),
      ),
      card,
      el(
        "figure",
        { class: "voltage-figure" },
        el("figcaption", {}, text.say("power.plot.title")),
        el("div", { class: "picks", role: "group", "aria-label": text.say("power.window") }, ...windows),
        canvas,
        caption,
        el("details", {}, el("summary", {}, text.say("power.table")), table),
      ),
    ),
    el(
      "details",
      {},
      el("summary", {}, text.say("power.same")),
      el("p", { class: "soft" }, text.say("power.same.why")),
      same,
    ),
    el("p", { class: "soft" }, text.say("power.assumed")),
  );

  function drawInputs(): void {
    const { inductorNh, dressing } = tools.budget;
    for (const [quantity, control] of controls) {
      const value = quantity === "inductorNh" ? (inductorNh ?? figures?.bestNh ?? 1) : tools.budget[quantity];
      control.draw(value);
    }
    best.setAttribute("aria-pressed", String(inductorNh === null));
    for (const [i, button] of dressings.entries())
      button.setAttribute("aria-pressed", String(DRESSINGS[i] === dressing));
    setText(same, commandOf(tools.budget));
  }

  let width = 0;
  function drawPlot(): void {
    for (const [i, button] of windows.entries())
      button.setAttribute("aria-pressed", String(WINDOWS[i] === tools.drawn));
    if (!figures || width < 100) return;
    const drawn = figures.drawn[tools.drawn];
    canvas.replaceChildren(voltagePlot(drawn, figures, width, text));
    setText(caption, plotCaption(figures, text));
    table.replaceChildren(statesTable(drawn, text));
  }

  const sized = new ResizeObserver(() => {
    if (canvas.clientWidth === width) return;
    width = canvas.clientWidth;
    drawPlot();
  });
  sized.observe(canvas);

  const budgeter = new Budgeter(worker as Channel, (told, latest) => {
    if (latest) card.removeAttribute("aria-busy");
    if (told.figures === null) {
      card.replaceChildren(el("p", { role: "alert" }, told.sentence ?? ""));
      return;
    }
    figures = told.figures;
    word.replaceChildren(verdictLine(figures, text));
    card.replaceChildren(verdictCard(figures, text));
    // While a slider moves the verdict is for the eye only.
    if (latest) setText(said, text.say(`power.run.${runVerdict(figures)}`));
    drawInputs();
    drawPlot();
  });
  drawInputs();
  set({});
  return () => {
    sized.disconnect();
    worker.terminate();
  };
};

/** What gives the same on the command line: two files and a command. */
function commandOf(inputs: BudgetInputs): string {
  return [
    `match.json   ${JSON.stringify(matchContentOf(inputs))}`,
    `budget.json  ${JSON.stringify(budgetContentOf(inputs))}`,
    `plyframe budget --match match.json --dressing ${inputs.dressing} budget.json`,
  ].join("\n");
}
