/** The quality of a reading in words: what is grave first, each with a sign of its own. */
import { type QualityId, qualities, type Severity } from "../../readings/quality.ts";
import { el, svg } from "../dom/element.ts";
import type { Text } from "../text/text.ts";

const ORDER: readonly Severity[] = ["invalid", "warning", "info"];

/** Shapes beside the words: a cross, a triangle, a dot. */
const SIGNS: { readonly [severity in Severity]: string } = {
  invalid: "M2 2l8 8M10 2l-8 8",
  warning: "M6 1.5 11 10.5H1z",
  info: "M6 5v5M6 2v1",
};

export function sign(severity: Severity): SVGElement {
  return svg("svg", { class: `sign sign-${severity}`, viewBox: "0 0 12 12" }, svg("path", { d: SIGNS[severity] }));
}

/** Grave ones first, notes last; within each in the order of the closed list. */
export function byGravity(quality: readonly QualityId[]): QualityId[] {
  return ORDER.flatMap((severity) => quality.filter((id) => qualities[id]?.severity === severity));
}

export interface Doubts {
  readonly element: HTMLElement;
  /** Null: there is no fresh reading to doubt. */
  draw(quality: readonly QualityId[] | null): void;
}

/** Doubts and worse; notes are among the figures. */
export function makeDoubts(text: Text): Doubts {
  const element = el("ul", { class: "doubts" });
  let drawn: string | null = null;
  return {
    element,
    draw(quality) {
      const ids = quality === null ? null : byGravity(quality).filter((id) => qualities[id].severity !== "info");
      const key = ids?.join(" ") ?? "none";
      if (key === drawn) return;
      drawn = key;
      if (ids === null) element.replaceChildren();
      else if (ids.length === 0) element.replaceChildren(el("li", { class: "good" }, text.say("now.good")));
      else element.replaceChildren(...ids.map((id) => doubt(id, text)));
    },
  };
}

/** One flag as an item of a list: sign, how grave it is in a word for those who do not see the sign, and what it says. */
export function doubt(id: QualityId, text: Text): HTMLElement {
  const { severity } = qualities[id];
  return el(
    "li",
    {},
    sign(severity),
    el("span", { class: "unseen" }, `${text.say(`quality.${severity}`)}: `),
    text.quality(id),
  );
}
