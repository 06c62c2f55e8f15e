/** Buttons for what the fingers and keys on the plot do. */
import { el, setAttribute } from "../dom/element.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";
import type { Part } from "./tables.ts";

/** Stretches to choose from, in seconds; null: everything. */
const SPANS_S: readonly (number | null)[] = [30, 120, 600, null];

export function makeTimeTools(store: Store, text: Text, changed: () => void): Part<[]> {
  const { window: shown } = store;
  const button = (label: string, act: () => void) =>
    el(
      "button",
      {
        type: "button",
        on: {
          click: () => {
            act();
            changed();
          },
        },
      },
      label,
    );
  const spans = SPANS_S.map((spanS) => [spanS, button(spanName(spanS, text), () => shown.show(spanS))] as const);
  const follow = button(text.say("time.follow"), () => shown.follow());
  const moves = [
    button(text.say("time.earlier"), () => shown.move(-0.5, store.firstS, store.edgeS)),
    button(text.say("time.later"), () => shown.move(0.5, store.firstS, store.edgeS)),
    button(text.say("time.closer"), () => shown.zoom(0.5, 0.5, store.firstS, store.edgeS)),
    button(text.say("time.wider"), () => shown.zoom(2, 0.5, store.firstS, store.edgeS)),
  ];
  const element = el(
    "div",
    { class: "time-tools" },
    el("div", { role: "group", "aria-label": text.say("time.window") }, ...spans.map(([, one]) => one)),
    el("div", {}, ...moves, follow),
  );
  return {
    element,
    draw() {
      for (const [spanS, one] of spans)
        setAttribute(one, "aria-pressed", String(shown.follows && shown.spanS === spanS));
      setAttribute(follow, "aria-pressed", String(shown.follows));
    },
  };
}

function spanName(spanS: number | null, text: Text): string {
  if (spanS === null) return text.say("time.window.all");
  return spanS < 60
    ? text.say("time.window.s", { count: String(spanS) })
    : text.say("time.window.min", { count: String(spanS / 60) });
}
