/** The light that says whether a load has settled: a word, a shape, and the two figures it stands on. */
import type { StabilityJudgement } from "../../view/messages.ts";
import { el, setText, svg } from "../dom/element.ts";
import type { Text } from "../text/text.ts";

/** `few`: too few readings to say. `moving`: a trend. `rough`: no trend, but too much scatter. `settled`: neither. */
export type Light = "few" | "moving" | "rough" | "settled";

export function lightOf({ stable, count, least_count, change_pa, change_limit_pa }: StabilityJudgement): Light {
  if (stable) return "settled";
  if (count < least_count || change_pa === null) return "few";
  return Math.abs(change_pa) > change_limit_pa ? "moving" : "rough";
}

/** Dots that are still to come, a slope, a ragged line, a level line in a whole ring. */
const SHAPES: { readonly [light in Light]: string } = {
  few: "M10 24h.1M24 24h.1M38 24h.1",
  moving: "M8 36 40 12M40 12H30M40 12v10",
  rough: "M6 26l6-12 7 20 7-20 7 20 8-12",
  settled: "M24 4a20 20 0 1 0 .1 0zM12 24h24",
};

export interface StabilityLight {
  readonly element: HTMLElement;
  draw(judgement: StabilityJudgement | null): void;
}

export function makeStabilityLight(text: Text): StabilityLight {
  const path = svg("path");
  const word = el("strong", { class: "light-word" });
  const figures = el("span", { class: "soft light-figures" });
  const shape = svg("svg", { viewBox: "0 0 48 48", class: "light-shape" }, path);
  const element = el("div", { class: "light" }, shape, el("p", {}, word, figures));
  return {
    element,
    draw(judgement) {
      element.hidden = judgement === null;
      if (judgement === null) return;
      const light = lightOf(judgement);
      element.dataset.light = light;
      path.setAttribute("d", SHAPES[light]);
      setText(word, text.say(`calibrate.light.${light}`));
      const { count, least_count, change_pa, scatter_pa, change_limit_pa, scatter_limit_pa } = judgement;
      const pascal = (value: number | null) => (value === null ? "–" : text.number(Math.abs(value), 1));
      setText(
        figures,
        text.say("calibrate.light.figures", {
          count: String(count),
          least: String(least_count),
          change: pascal(change_pa),
          changeLimit: text.number(change_limit_pa, 0),
          scatter: pascal(scatter_pa),
          scatterLimit: text.number(scatter_limit_pa, 0),
        }),
      );
    },
  };
}
