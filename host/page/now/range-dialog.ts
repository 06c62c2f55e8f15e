/** Asks for the range that is aimed at. */
import { el, setText } from "../dom/element.ts";
import type { Site } from "../store/site.ts";
import type { Store } from "../store/store.ts";
import { RANGE_LIMIT_MMHG, type Range, rangeOf } from "../store/verdict.ts";
import type { Text } from "../text/text.ts";

export interface RangeDialog {
  readonly element: HTMLDialogElement;
  open(site: Site): void;
}

export function makeRangeDialog(store: Store, text: Text): RangeDialog {
  let site: Site | null = null;
  const number = (id: string) =>
    el("input", {
      id,
      type: "number",
      inputmode: "decimal",
      min: 0,
      max: RANGE_LIMIT_MMHG,
      step: "any",
      "aria-describedby": "range-wrong",
    });
  const [low, high] = [number("range-low"), number("range-high")];
  const title = el("h2", { id: "range-title" });
  const wrong = el("p", { id: "range-wrong", role: "alert" });
  const close = () => element.close();
  const keep = (set: (range: Range) => void) => () => {
    const range = low.value === "" || high.value === "" ? null : rangeOf(Number(low.value), Number(high.value));
    if (range === null) {
      setText(wrong, text.say("range.wrong", { limit: String(RANGE_LIMIT_MMHG) }));
      low.focus();
      return;
    }
    set(range);
    close();
    store.changed();
  };
  const one = keep((range) => store.preferences.setRange(site!.epc, range));
  const all = keep((range) => store.preferences.setRangeOfAll(range));
  const remove = () => {
    store.preferences.setRangeOfAll(null);
    close();
    store.changed();
  };
  const form = el(
    "form",
    {
      novalidate: true,
      on: {
        submit: (event: Event) => {
          event.preventDefault();
          one();
        },
      },
    },
    title,
    el("p", { class: "soft" }, text.say("range.why")),
    el(
      "div",
      { class: "pair" },
      el("label", {}, text.say("range.low"), low),
      el("label", {}, text.say("range.high"), high),
    ),
    wrong,
    el(
      "div",
      { class: "buttons" },
      el("button", { type: "submit", class: "main" }, text.say("range.save")),
      el("button", { type: "button", on: { click: all } }, text.say("range.save.all")),
      el("button", { type: "button", on: { click: remove } }, text.say("range.remove")),
      el("button", { type: "button", on: { click: close } }, text.say("range.cancel")),
    ),
  );
  const element = el("dialog", { class: "range", "aria-labelledby": "range-title" }, form);
  return {
    element,
    open(chosen) {
      site = chosen;
      setText(title, text.say("range.title", { site: chosen.label }));
      setText(wrong, "");
      const range = store.preferences.rangeOf(chosen.epc);
      low.value = range ? String(range.lowMmhg) : "";
      high.value = range ? String(range.highMmhg) : "";
      element.showModal();
    },
  };
}
