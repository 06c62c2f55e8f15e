/** Whether the tag runs, in words, and the figures on which that stands. */
import type { Answer, Cause } from "../../../sim/index.ts";
import { el, svg } from "../dom/element.ts";
import type { Text } from "../text/text.ts";
import type { PowerFigures } from "./figures.ts";
import { type RunVerdict, runVerdict } from "./run-verdict.ts";

/** A shape for each word: a filled arrow, the same broken in two, a barred ring. */
const SHAPES: { readonly [verdict in RunVerdict]: string } = {
  runs: "M4 4l17 8-17 8z",
  falters: "M3 5l7 3.5v7L3 19zM13 10l8 2-8 2z",
  never: "M12 3a9 9 0 1 0 .01 0zM5.6 5.6l12.8 12.8",
};

/** The word alone: it stays in sight while a slider moves. */
export function verdictLine(figures: PowerFigures, text: Text): HTMLElement {
  const verdict = runVerdict(figures);
  return el(
    "p",
    { class: `run-word run-${verdict}`, "data-run": verdict },
    svg("svg", { viewBox: "0 0 24 24", class: "run-shape" }, svg("path", { d: SHAPES[verdict] })),
    text.say(`power.run.${verdict}`),
  );
}

export function verdictCard(figures: PowerFigures, text: Text): HTMLElement {
  return el(
    "div",
    { class: "run" },
    ...sentences(figures, runVerdict(figures), text).map((sentence) => el("p", {}, sentence)),
    el(
      "dl",
      { class: "power-figures" },
      ...rows(figures, text).flatMap(([name, value]) => [el("dt", {}, name), el("dd", {}, value)]),
    ),
  );
}

/** What follows from the figures, in the order of their weight. */
function sentences(figures: PowerFigures, verdict: RunVerdict, text: Text): string[] {
  const { firstFrame, rate, askedPerS, lossesPerMinute, near, betterWithout } = figures;
  const said: string[] = [];
  if ("cause" in firstFrame) said.push(causeWords(firstFrame.cause, text));
  if (verdict === "falters") {
    if ("cause" in rate) said.push(causeWords(rate.cause, text));
    else if (rate.value < askedPerS * 0.995) {
      said.push(text.say("power.slower", { asked: three(askedPerS, text), rate: three(rate.value, text) }));
    }
    if (lossesPerMinute > 0) said.push(text.say("power.losses.say", { count: three(lossesPerMinute, text) }));
  }
  if (near) said.push(text.say("power.near"));
  if (betterWithout) said.push(text.say("power.betterWithout"));
  return said;
}

function rows(figures: PowerFigures, text: Text): (readonly [name: string, value: string])[] {
  const { levelDbm, tau, firstFrame, rate, leastCapacitor, nextE6Uf, lossesPerMinute } = figures;
  const answer = (given: Answer, unit: string, scale = 1) =>
    "value" in given ? `${three(given.value * scale, text)} ${unit}` : text.say("power.none");
  const least = answer(leastCapacitor, "µF", 1e6);
  return [
    [text.say("power.level"), `${text.number(levelDbm, 2)} dBm (${three(10 ** (levelDbm / 10) * 1000, text)} µW)`],
    [text.say("power.tau"), text.number(tau, 3)],
    [text.say("power.firstFrame"), answer(firstFrame, "s")],
    [text.say("power.rate"), answer(rate, text.say("power.perSecond"))],
    [
      text.say("power.least"),
      nextE6Uf === null ? least : text.say("power.least.e6", { least, e6: plain(nextE6Uf, text) }),
    ],
    [text.say("power.losses"), three(lossesPerMinute, text)],
    [
      text.say("power.givenUp"),
      text.say("power.givenUp.of", {
        skipped: String(figures.samplesGivenUp),
        frames: String(figures.frames),
        seconds: plain(figures.lifeS, text),
      }),
    ],
  ];
}

function causeWords(cause: Cause, text: Text): string {
  switch (cause.code) {
    case "store-below-supervisor":
      return text.say("power.cause.store", { store: text.number(cause.storeV, 2), on: text.number(cause.onV, 1) });
    case "conversion-too-long":
      return text.say("power.cause.conversion", {
        takes: plain(cause.conversionMs, text),
        waits: plain(cause.waitMs, text),
      });
    case "task-too-large":
      return text.say("power.cause.task", {
        needs: text.number(cause.needsUc, 1),
        gives: text.number(cause.storeUc, 1),
      });
    case "sample-never-begun":
      return text.say("power.cause.sample", { start: text.number(cause.startV, 1) });
    case "slower-than-slowest":
      return text.say("power.cause.slowest");
    case "no-capacitor":
      return text.say("power.cause.capacitor");
  }
}

/** Three significant digits, as the command prints them: no more than a class value deserves. */
export function three(value: number, text: Text): string {
  return plain(Number(value.toPrecision(3)), text);
}

function plain(value: number, text: Text): string {
  return /e/.test(String(value)) ? String(value) : text.number(value, (String(value).split(".")[1] ?? "").length);
}
