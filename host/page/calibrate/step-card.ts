/** What to do now, and the buttons that say that it was done. */
import type { CalibrationState } from "../../view/messages.ts";
import type { CalibrateRequest } from "../../view/requests.ts";
import { calibrationLimits } from "../../view/requests.ts";
import { el, setText } from "../dom/element.ts";
import { typedNumber } from "../power/control.ts";
import type { Text } from "../text/text.ts";
import { makeStabilityLight } from "./stability-light.ts";

/** Who guides the run: this page, another one on which this one looks on, or nobody, for there is no server. */
export type Guide = "here" | "elsewhere" | "nobody";

export interface StepCard {
  readonly element: HTMLElement;
  draw(state: CalibrationState, guide: Guide): void;
}

export function makeStepCard(text: Text, ask: (request: CalibrateRequest) => void): StepCard {
  const light = makeStabilityLight(text);
  const step = el("p", { class: "soft" });
  const task = el("p", { class: "step-task", role: "status" });
  const load = el("input", {
    id: "calibrate-load",
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    "aria-describedby": "calibrate-load-problem",
  });
  const problem = el("p", { id: "calibrate-load-problem", class: "word-fault", role: "status" });
  const loadRow = el(
    "div",
    { class: "choice" },
    el("label", { for: "calibrate-load" }, text.say("calibrate.load")),
    load,
  );
  const send = (action: "wait" | "take" | "skip" | "stop") => () => ask({ type: "calibrate", action });
  const applied = () => {
    const mmhg = typedNumber(load.value);
    if (mmhg === null || mmhg < 0 || mmhg > calibrationLimits.highestMmhg) {
      setText(problem, text.say("calibrate.load.wrong", { highest: String(calibrationLimits.highestMmhg) }));
      return;
    }
    setText(problem, "");
    ask({ type: "calibrate", action: "applied", load_mmhg: mmhg });
  };
  const button = (act: () => void, label: string, kind = "") =>
    el("button", { type: "button", class: kind, on: { click: act } }, label);
  const buttons = {
    applied: button(applied, text.say("calibrate.applied"), "main"),
    wait: button(send("wait"), text.say("calibrate.wait"), "main"),
    take: button(send("take"), text.say("calibrate.take")),
    skip: button(send("skip"), text.say("calibrate.skip")),
    stop: button(send("stop"), text.say("calibrate.stop")),
  };
  const shown: { readonly [phase in CalibrationState["phase"]]: readonly (keyof typeof buttons)[] } = {
    idle: [],
    apply: ["applied", "skip", "stop"],
    settling: ["stop"],
    unsettled: ["wait", "take", "skip", "stop"],
    done: [],
  };
  let asked = "";
  return {
    element: el(
      "section",
      { class: "step-card", "aria-label": text.say("calibrate.step.name") },
      step,
      task,
      light.element,
      loadRow,
      problem,
      el("div", { class: "buttons" }, ...Object.values(buttons)),
    ),
    draw(state, guide) {
      const { phase, stability } = state;
      const key = `${phase} ${state.step?.number}`;
      // What was typed for one load is not the next one's.
      if (key !== asked && state.step)
        load.value = text.number(state.step.load_mmhg, Number.isInteger(state.step.load_mmhg) ? 0 : 1);
      if (key !== asked) setText(problem, "");
      asked = key;
      setText(step, stepWords(state, text));
      setText(
        task,
        guide === "elsewhere" ? text.say("calibrate.elsewhere") : guide === "here" ? taskWords(state, text) : "",
      );
      light.draw(stability);
      loadRow.hidden = guide !== "here" || phase !== "apply";
      for (const [name, one] of Object.entries(buttons))
        one.hidden = guide !== "here" || !shown[phase].some((of) => of === name);
    },
  };
}

function stepWords({ step }: CalibrationState, text: Text): string {
  if (!step) return "";
  const { number, of, cycle, direction } = step;
  const way = text.say(direction === "up" ? "calibrate.up" : "calibrate.down");
  return text.say("calibrate.step", { number: String(number), of: String(of), cycle: String(cycle), way });
}

function taskWords({ phase, step }: CalibrationState, text: Text): string {
  const load = step ? text.number(step.load_mmhg, Number.isInteger(step.load_mmhg) ? 0 : 1) : "";
  if (phase === "apply") return text.say("calibrate.task.apply", { load });
  if (phase === "settling") return text.say("calibrate.task.settling", { load });
  return phase === "unsettled" ? text.say("calibrate.task.unsettled", { load }) : "";
}
