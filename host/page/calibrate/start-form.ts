/** What is to be calibrated, and by which loads. */
import { type CalibrateRequest, calibrationLimits } from "../../view/requests.ts";
import { el, setText } from "../dom/element.ts";
import { typedNumber } from "../power/control.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";

type StartRequest = Extract<CalibrateRequest, { readonly action: "start" }>;

/** Rising loads from a typed list, divided by spaces, semicolons or commas; null: it is none. */
export function loadsOf(typed: string): number[] | null {
  const trimmed = typed.trim();
  // Commas alone divide; beside spaces they may be the decimal ones of a language.
  const parts = /[;\s]/.test(trimmed) ? trimmed.split(/\s*;\s*|,?\s+/) : trimmed.split(",");
  const loads = parts.map(typedNumber);
  if (loads.some((load) => load === null)) return null;
  const numbers = loads as number[];
  const { loads: most, highestMmhg } = calibrationLimits;
  const rising = numbers.every((load, i) => load >= 0 && load <= highestMmhg && (i === 0 || load > numbers[i - 1]!));
  return rising && numbers.length <= most ? numbers : null;
}

export interface StartForm {
  readonly element: HTMLFormElement;
  draw(): void;
}

export function makeStartForm(store: Store, text: Text, start: (request: StartRequest) => void): StartForm {
  const { loads: mostLoads, cycles: mostCycles, highestMmhg, uncertaintyPa } = calibrationLimits;
  const tag = el("select", { id: "calibrate-tag" });
  const loads = el("input", {
    id: "calibrate-loads",
    type: "text",
    value: "0 20 40 60 80",
    autocomplete: "off",
    "aria-describedby": "calibrate-problem",
  });
  const cycles = el("input", {
    id: "calibrate-cycles",
    type: "text",
    inputmode: "numeric",
    value: "2",
    autocomplete: "off",
    "aria-describedby": "calibrate-problem",
  });
  const reference = el("input", {
    id: "calibrate-reference",
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    "aria-describedby": "calibrate-reference-why calibrate-problem",
  });
  const problem = el("p", { id: "calibrate-problem", class: "word-fault", role: "status" });
  const submit = (event: Event) => {
    event.preventDefault();
    const numbers = loadsOf(loads.value);
    const times = typedNumber(cycles.value);
    const own = reference.value.trim() === "" ? null : typedNumber(reference.value);
    if (numbers === null)
      setText(problem, text.say("calibrate.loads.wrong", { most: String(mostLoads), highest: String(highestMmhg) }));
    else if (times === null || !Number.isInteger(times) || times < 1 || times > mostCycles) {
      setText(problem, text.say("calibrate.cycles.wrong", { most: String(mostCycles) }));
    } else if (reference.value.trim() !== "" && (own === null || own < 0 || own > uncertaintyPa)) {
      setText(problem, text.say("calibrate.reference.wrong", { most: String(uncertaintyPa) }));
    } else {
      setText(problem, "");
      start({
        type: "calibrate",
        action: "start",
        epc: tag.value,
        loads_mmhg: numbers,
        cycles: times,
        reference_uncertainty_pa: own,
      });
    }
  };
  const go = el("button", { type: "submit", class: "main" }, text.say("calibrate.start"));
  const row = (id: string, label: string, input: HTMLElement) =>
    el("div", { class: "choice" }, el("label", { for: id }, label), input);
  const element = el(
    "form",
    { class: "calibrate-start", on: { submit } },
    el("p", {}, text.say("calibrate.what")),
    row("calibrate-tag", text.say("calibrate.tag"), tag),
    row("calibrate-loads", text.say("calibrate.loads"), loads),
    row("calibrate-cycles", text.say("calibrate.cycles"), cycles),
    row("calibrate-reference", text.say("calibrate.reference"), reference),
    el("p", { id: "calibrate-reference-why", class: "soft" }, text.say("calibrate.reference.why")),
    problem,
    el("div", { class: "buttons" }, go),
  );
  let built = "";
  return {
    element,
    draw() {
      const sites = [...store.sites.values()];
      const key = sites.map(({ epc, label }) => `${epc} ${label}`).join();
      if (key !== built) {
        built = key;
        const chosen = tag.value;
        tag.replaceChildren(...sites.map(({ epc, label }) => el("option", { value: epc }, label)));
        if (store.sites.has(chosen)) tag.value = chosen;
      }
      go.disabled = store.link !== "open" || sites.length === 0;
    },
  };
}
