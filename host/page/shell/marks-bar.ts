/** Buttons that mark an event, under the thumb. */

import type { MarkKind } from "../../view/messages.ts";
import { fromPage } from "../../view/requests.ts";
import { el } from "../dom/element.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";

const KINDS = ["wrapped", "stood", "walked", "rested"] as const satisfies readonly MarkKind[];

/** What became of it comes from the server, and is told as `shell/told.ts` has it; `say` is for when there is none. */
export function marksBar(host: HTMLElement, store: Store, text: Text, say: (sentence: string) => void): void {
  const mark = (kind: MarkKind, words = "") => {
    if (!store.send({ type: "mark", kind, text: words })) say(text.say("mark.refused"));
  };
  const note = noteDialog(text, (words) => mark("note", words));
  const buttons = KINDS.map((kind) =>
    el("button", { type: "button", "data-mark": kind, on: { click: () => mark(kind) } }, text.say(`mark.${kind}`)),
  );
  const more = el(
    "button",
    { type: "button", "data-mark": "note", on: { click: () => note.showModal() } },
    text.say("mark.note"),
  );
  host.append(
    el("div", { class: "marks-row", role: "group", "aria-label": text.say("marks.name") }, ...buttons, more),
    note,
  );
}

function noteDialog(text: Text, done: (words: string) => void): HTMLDialogElement {
  const input = el("input", {
    id: "note-words",
    type: "text",
    maxlength: fromPage.textCharacters,
    required: true,
    autocomplete: "off",
  });
  const close = () => {
    input.value = "";
    dialog.close();
  };
  const form = el(
    "form",
    {
      method: "dialog",
      on: {
        submit: (event: Event) => {
          event.preventDefault();
          const words = input.value.trim();
          close();
          if (words !== "") done(words);
        },
      },
    },
    el("label", { for: "note-words" }, text.say("mark.note.label")),
    input,
    el(
      "div",
      { class: "buttons" },
      el("button", { type: "submit", class: "main" }, text.say("mark.note.save")),
      el("button", { type: "button", on: { click: close } }, text.say("mark.note.cancel")),
    ),
  );
  const dialog = el("dialog", { "aria-label": text.say("mark.note.plain") }, form);
  return dialog;
}
