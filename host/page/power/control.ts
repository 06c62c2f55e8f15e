/** One quantity: a slider and a field to type it, both of the same name. */
import { preferredValues } from "../../../sim/index.ts";
import { el, setAttribute, setText } from "../dom/element.ts";
import type { PlainKey, Text } from "../text/text.ts";
import { limits, type Quantity } from "./inputs.ts";

const STEPS = 200;

/** A quantity's value at a slider's place from 0 to 1, rounded as it is shown. */
export function valueAt(quantity: Quantity, share: number): number {
  if (quantity === "inductorNh") {
    const values = inductorValues();
    return values[Math.round(share * (values.length - 1))]!;
  }
  const { low, high, digits, ratio } = limits[quantity];
  const value = ratio ? low * (high / low) ** share : low + (high - low) * share;
  // Two or three figures of it, no more than a slider can mean.
  return Number(Number(value.toPrecision(ratio ? 2 : 3)).toFixed(digits));
}

/** The place of a value; the inverse of `valueAt` but for its rounding. */
export function shareOf(quantity: Quantity, value: number): number {
  if (quantity === "inductorNh") {
    const values = inductorValues();
    return values.indexOf(nearestInductor(value)) / (values.length - 1);
  }
  const { low, high, ratio } = limits[quantity];
  return ratio ? Math.log(value / low) / Math.log(high / low) : (value - low) / (high - low);
}

function inductorValues(): readonly number[] {
  return preferredValues("E24", limits.inductorNh.low, limits.inductorNh.high);
}

/** The preferred value that lies nearest, by ratio. */
export function nearestInductor(nh: number): number {
  const away = (value: number) => Math.abs(Math.log(value / nh));
  return inductorValues().reduce((best, value) => (away(value) < away(best) ? value : best));
}

/** A typed number, with a point or a comma; null for anything else. */
export function typedNumber(typed: string): number | null {
  const plain = typed.trim().replace("−", "-").replace(",", ".");
  return /^-?(\d+\.?\d*|\.\d+)$/.test(plain) ? Number(plain) : null;
}

export interface Control {
  readonly element: HTMLElement;
  draw(value: number): void;
}

/** `changed` hears every allowed value, also while the slider moves. */
export function makeControl(quantity: Quantity, text: Text, changed: (value: number) => void): Control {
  const { low, high, digits } = limits[quantity];
  const name = text.say(`power.${quantity}` as PlainKey);
  const unit = text.say(`power.${quantity}.unit` as PlainKey);
  const ids = { typed: `power-${quantity}`, problem: `power-${quantity}-problem` };
  const shown = (value: number) => text.number(value, decimals(value, digits));
  const slider = el("input", {
    type: "range",
    min: 0,
    max: quantity === "inductorNh" ? inductorValues().length - 1 : STEPS,
    step: 1,
    "aria-label": text.say("power.slider", { name }),
  });
  const typed = el("input", {
    type: "text",
    id: ids.typed,
    inputmode: "decimal",
    autocomplete: "off",
    "aria-describedby": ids.problem,
  });
  const problem = el("p", { class: "word-fault", id: ids.problem, role: "status" });
  const say = (sentence: string) => {
    setText(problem, sentence);
    setAttribute(typed, "aria-invalid", sentence ? "true" : null);
  };
  const max = Number(slider.max);
  slider.addEventListener("input", () => {
    say("");
    changed(valueAt(quantity, Number(slider.value) / max));
  });
  // What is half typed is not overwritten by an answer to an earlier change.
  let typing = false;
  typed.addEventListener("input", () => {
    typing = true;
  });
  typed.addEventListener("blur", () => {
    typing = false;
  });
  typed.addEventListener("change", () => {
    typing = false;
    const value = typedNumber(typed.value);
    if (value === null || value < low || value > high) {
      say(text.say("power.limits", { low: shown(low), high: shown(high), unit }));
      return;
    }
    say("");
    changed(quantity === "inductorNh" ? nearestInductor(value) : value);
  });
  return {
    element: el(
      "div",
      { class: "control" },
      el("label", { for: ids.typed }, name),
      el("span", { class: "control-typed" }, typed, el("span", { class: "soft" }, unit)),
      slider,
      problem,
    ),
    draw(value) {
      slider.value = String(Math.round(shareOf(quantity, value) * max));
      setAttribute(slider, "aria-valuetext", `${shown(value)} ${unit}`);
      if (!typing && problem.textContent === "") typed.value = shown(value);
    },
  };
}

/** As many as the value has, at most three more than are usual. */
function decimals(value: number, usual: number): number {
  return Math.min((String(value).split(".")[1] ?? "").length, usual + 3);
}
