/** Settings of this device, the cautions again, and what session this is. */
import { el } from "../dom/element.ts";
import { canKeepFiles } from "../offline/kept-files.ts";
import { languages, type Theme, themes } from "../store/preferences.ts";
import type { Store } from "../store/store.ts";
import { languageNames, type Text } from "../text/text.ts";

export interface SettingsActions {
  /** The language or the light was changed. */
  readonly changed: () => void;
  /** Everything kept in this browser is to be forgotten. */
  readonly forget: () => Promise<void>;
}

/** A dialog, built when it is opened, so that it says what is so at that moment. */
export function openSettings(store: Store, text: Text, actions: SettingsActions): void {
  const { preferences } = store;
  const language = choice(
    "settings-language",
    text.say("settings.language"),
    languages.map((id) => [id, languageNames[id]]),
    text.language,
    (id) => preferences.set("language", id),
  );
  const theme = choice<Theme>(
    "settings-theme",
    text.say("settings.theme"),
    themes.map((id) => [id, text.say(`settings.theme.${id}`)]),
    preferences.get("theme"),
    (id) => preferences.set("theme", id),
  );
  const announce = el("input", { type: "checkbox", id: "settings-announce" });
  announce.checked = preferences.get("announce");
  announce.addEventListener("change", () => preferences.set("announce", announce.checked));
  const forgotten = el("p", { role: "status" });
  const forget = async () => {
    await actions.forget();
    forgotten.textContent = text.say("settings.forgotten");
  };
  const dialog = el(
    "dialog",
    { class: "settings", "aria-labelledby": "settings-title" },
    el("h2", { id: "settings-title" }, text.say("settings.title")),
    ...language.row,
    ...theme.row,
    el("p", { class: "tick" }, announce, el("label", { for: "settings-announce" }, text.say("settings.announce"))),
    el("h3", {}, text.say("settings.kept")),
    el(
      "p",
      {},
      text.say("settings.kept.what"),
      " ",
      text.say(canKeepFiles() ? "settings.kept.files" : "settings.kept.files.none"),
    ),
    el(
      "div",
      { class: "buttons" },
      el("button", { type: "button", on: { click: () => void forget() } }, text.say("settings.forget")),
    ),
    forgotten,
    el("h3", {}, text.say("cautions.title")),
    el("ul", { class: "cautions-list" }, ...text.cautions.map((caution) => el("li", {}, caution))),
    ...about(store, text),
    el(
      "div",
      { class: "buttons" },
      el("button", { type: "button", class: "main", on: { click: () => dialog.close() } }, text.say("settings.close")),
    ),
  );
  const was = [preferences.get("language"), preferences.get("theme")];
  dialog.addEventListener("close", () => {
    dialog.remove();
    if (preferences.get("language") !== was[0] || preferences.get("theme") !== was[1]) actions.changed();
  });
  document.body.append(dialog);
  dialog.showModal();
}

function about({ hello }: Store, text: Text): HTMLElement[] {
  if (!hello) return [];
  const { program, layout, fingerprint, source_name, started, band_scheme } = hello;
  return [
    el("h3", {}, text.say("settings.about")),
    el("p", {}, `${text.moment(new Date(started))} · ${source_name}`),
    el("p", {}, text.say("settings.program", { program, layout: String(layout), fingerprint })),
    el("p", {}, text.say("settings.scheme", { scheme: band_scheme.id, edges: text.bandEdges })),
  ];
}

function choice<Id extends string>(
  id: string,
  label: string,
  options: readonly (readonly [Id, string])[],
  chosen: Id,
  choose: (id: Id) => void,
): { readonly row: readonly HTMLElement[] } {
  const select = el(
    "select",
    { id },
    ...options.map(([value, name]) => el("option", { value, selected: value === chosen }, name)),
  );
  select.addEventListener("change", () => choose(select.value as Id));
  return { row: [el("p", { class: "choice" }, el("label", { for: id }, label), select)] };
}
