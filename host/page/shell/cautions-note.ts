/** The cautions, shown above the views until they are put away for this session. */
import { el } from "../dom/element.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";

export function cautionsNote(host: HTMLElement, store: Store, text: Text): () => void {
  const note = el(
    "section",
    { class: "cautions", "aria-labelledby": "cautions-title", hidden: true },
    el("h2", { id: "cautions-title" }, text.say("cautions.title")),
    el("ul", { class: "cautions-list" }, ...text.cautions.map((caution) => el("li", {}, caution))),
    el("button", { type: "button", class: "main", on: { click: () => putAway() } }, text.say("cautions.done")),
  );
  const session = () => store.hello?.session ?? null;
  const draw = () => {
    const hidden = session() === null || store.preferences.get("cautionsSeen") === session();
    if (note.hidden !== hidden) note.hidden = hidden;
  };
  const putAway = () => {
    store.preferences.set("cautionsSeen", session());
    draw();
    document.getElementById("view")?.focus({ preventScroll: true });
    scrollTo(0, 0);
  };
  host.append(note);
  draw();
  return store.subscribe(draw);
}
