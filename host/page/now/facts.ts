/** Age, temperature and power of a site in one line. */
import type { ReadingRecord } from "../../view/messages.ts";
import { el, setAttribute, setText, svg } from "../dom/element.ts";
import { powerOf } from "../store/power.ts";
import type { Text } from "../text/text.ts";

export interface Facts {
  readonly element: HTMLElement;
  /** `reading` null: none that is fresh; the age is all there is to say then. */
  draw(ageS: number | null, reading: ReadingRecord | null, supplyLowV: number, share: number | null): void;
}

export function makeFacts(text: Text): Facts {
  const [age, temperature, powerWord] = [el("dd"), el("dd"), el("span")];
  const bars = [1, 2, 3].map((n) => svg("rect", { x: n * 6 - 5, y: 10 - n * 3, width: 4.5, height: n * 3 + 1 }));
  const cells = svg("svg", { class: "cells", viewBox: "0 0 18 12" }, ...bars);
  const power = el("dd", { class: "slip-power" }, cells, powerWord);
  const aged = el("div", {}, el("dt", {}, text.say("now.age")), age);
  const warm = el("div", {}, el("dt", {}, text.say("now.temperature")), temperature);
  const fed = el("div", {}, el("dt", {}, text.say("now.power")), power);
  return {
    element: el("dl", { class: "slip-facts" }, aged, warm, fed),
    draw(ageS, reading, supplyLowV, share) {
      aged.hidden = ageS === null;
      if (ageS !== null) setText(age, text.age(ageS));
      const celsius = reading?.temperature_cel ?? null;
      warm.hidden = celsius === null;
      if (celsius !== null) setText(temperature, `${text.number(celsius, 1)} °C`);
      fed.hidden = reading === null;
      if (reading === null) return;
      const { word, cells: filled } = powerOf(reading, supplyLowV, share);
      setText(powerWord, text.say(`power.${word}`));
      setAttribute(cells, "data-cells", String(filled));
    },
  };
}
