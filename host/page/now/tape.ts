/** The tape: one scale for every site, on which the reading is a pin as wide as its uncertainty. */
import { el, setAttribute } from "../dom/element.ts";
import type { Range } from "../store/verdict.ts";
import type { Text } from "../text/text.ts";

const LEAST_END_MMHG = 80;
const STEP_MMHG = 40;
const FIGURE_MMHG = 20;

/** End of the tapes for the highest pressure to be shown: 80, 120, 160, … */
export function tapeEndMmhg(highestMmhg: number): number {
  return Math.max(LEAST_END_MMHG, Math.ceil(highestMmhg / STEP_MMHG) * STEP_MMHG);
}

export interface Pin {
  readonly gaugeMmhg: number;
  /** Null: not known; the pin has no bar then. */
  readonly uncertaintyMmhg: number | null;
}

export interface Tape {
  readonly element: HTMLElement;
  /** No pin: there is no number. */
  draw(endMmhg: number, range: Range | null, pin: Pin | null): void;
}

/** Says nothing to a screen reader: the words beside it say the same. */
export function makeTape(text: Text): Tape {
  const figures = el("div", { class: "tape-figures" });
  const range = el("div", { class: "tape-range", hidden: true });
  const bar = el("div", { class: "tape-bar", hidden: true });
  const needle = el("div", { class: "tape-pin", hidden: true });
  const element = el(
    "div",
    { class: "tape", "aria-hidden": "true" },
    el("div", { class: "tape-ticks" }),
    range,
    bar,
    needle,
    figures,
  );
  let drawnEnd = 0;

  const share = (mmhg: number, endMmhg: number) => Math.max(0, Math.min(1, mmhg / endMmhg));
  const stretch = (part: HTMLElement, low: number, high: number, endMmhg: number) => {
    const [from, to] = [share(low, endMmhg), share(high, endMmhg)];
    setStyle(part, "left", `${(from * 100).toFixed(2)}%`);
    setStyle(part, "width", `${((to - from) * 100).toFixed(2)}%`);
  };

  return {
    element,
    draw(endMmhg, chosen, pin) {
      if (endMmhg !== drawnEnd) {
        drawnEnd = endMmhg;
        const marks: HTMLElement[] = [];
        for (let mmhg = 0; mmhg <= endMmhg; mmhg += FIGURE_MMHG) {
          const figure = el("span", {}, text.number(mmhg, 0));
          figure.style.left = `${share(mmhg, endMmhg) * 100}%`;
          marks.push(figure);
        }
        figures.replaceChildren(...marks);
        element.style.setProperty("--ticks", String(endMmhg / 5));
      }
      range.hidden = chosen === null;
      if (chosen) stretch(range, chosen.lowMmhg, chosen.highMmhg, endMmhg);
      needle.hidden = pin === null;
      bar.hidden = pin?.uncertaintyMmhg == null;
      if (!pin) return;
      setStyle(needle, "left", `${(share(pin.gaugeMmhg, endMmhg) * 100).toFixed(2)}%`);
      setAttribute(needle, "data-sure", String(pin.uncertaintyMmhg !== null));
      if (pin.uncertaintyMmhg !== null) {
        stretch(bar, pin.gaugeMmhg - pin.uncertaintyMmhg, pin.gaugeMmhg + pin.uncertaintyMmhg, endMmhg);
      }
    },
  };
}

function setStyle(element: HTMLElement, name: "left" | "width", value: string): void {
  if (element.style[name] !== value) element.style[name] = value;
}
