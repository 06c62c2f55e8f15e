/** What stays while views come and go: head, navigation, marks, live region. */
import { el, setText } from "../dom/element.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";
import { Announcer, readOut } from "./announcer.ts";
import { cautionsNote } from "./cautions-note.ts";
import { feedLine } from "./feed-line.ts";
import { marksBar } from "./marks-bar.ts";
import { pairingForm } from "./pairing-form.ts";
import { openSettings, type SettingsActions } from "./settings.ts";
import { tellAnswers } from "./told.ts";
import type { View } from "./view.ts";
import { views } from "./views.ts";

export interface Shell {
  /** Opens a view; the focus goes to its heading unless it is the first one. */
  open(view: View, first: boolean): Promise<void>;
  /** Takes the page down, for building it again in another language. */
  close(): void;
}

export interface ShellActions extends SettingsActions {
  readonly paired: () => void;
}

/** How long a sentence stays for the eye. */
const SAID_MS = 6000;

export function makeShell(page: HTMLElement, store: Store, text: Text, actions: ShellActions): Shell {
  document.documentElement.lang = text.language;
  const links = views.map(
    ({ id }) => [id, el("a", { href: `#${id}`, class: "view-link" }, text.say(`view.${id}`))] as const,
  );
  const heading = el("h1", { tabindex: -1 });
  const host = el("section", { class: "view", "aria-labelledby": "heading" });
  heading.id = "heading";
  const main = el("main", { id: "view", tabindex: -1 });
  const feed = el("div", { class: "feed-lines" });
  const said = el("p", { class: "said", "aria-hidden": "true" });
  const live = el("p", { class: "unseen", role: "status" });
  const marks = el("footer", { class: "marks" });
  const undo: (() => void)[] = [];
  let opened: View | null = null;

  let clearing: ReturnType<typeof setTimeout> | undefined;
  const tell = (sentence: string) => {
    setText(live, sentence);
    setText(said, sentence);
    clearTimeout(clearing);
    clearing = setTimeout(() => setText(said, ""), SAID_MS);
  };

  page.replaceChildren(
    el("button", { type: "button", class: "skip", on: { click: () => main.focus() } }, text.say("page.skip")),
    el(
      "header",
      { class: "head" },
      el("p", { class: "brand" }, text.say("page.name")),
      feed,
      el(
        "div",
        { class: "head-buttons" },
        el("button", { type: "button", on: { click: () => tell(readOut(store, text)) } }, text.say("say.name")),
        el(
          "button",
          { type: "button", on: { click: () => openSettings(store, text, actions) } },
          text.say("settings.open"),
        ),
      ),
    ),
    el("nav", { class: "views", "aria-label": text.say("nav.name") }, ...links.map(([, link]) => link)),
    main,
    marks,
    live,
  );
  undo.push(
    feedLine(feed, store, text),
    cautionsNote(main, store, text),
    pairingForm(main, store, text, actions.paired),
    tellAnswers(store, text, tell),
  );
  main.append(heading, host);
  // Without pairing there is nothing to look at but the form.
  const showPaired = () => {
    heading.hidden = host.hidden = store.link === "unpaired";
    marks.hidden = heading.hidden || opened?.marks === false;
  };
  undo.push(store.subscribe(showPaired));
  marks.append(said);
  marksBar(marks, store, text, tell);

  const announcer = new Announcer(store, text);
  const announcing = setInterval(() => {
    const sentence = store.preferences.get("announce") ? announcer.next(performance.now()) : null;
    if (sentence !== null) setText(live, sentence);
  }, 1000);
  undo.push(() => clearInterval(announcing));

  let unmount = () => {};
  return {
    async open(view, first) {
      opened = view;
      unmount();
      unmount = () => {};
      host.replaceChildren(el("p", {}, text.say("view.loading")));
      host.className = `view view-${view.id}`;
      document.title = `${text.say(`view.${view.id}`)} · ${text.say("page.name")}`;
      setText(heading, text.say(`view.${view.id}.question`));
      for (const [id, link] of links) {
        if (id === view.id) link.setAttribute("aria-current", "page");
        else link.removeAttribute("aria-current");
      }
      showPaired();
      if (!first) heading.focus();
      try {
        const { mount } = await view.load();
        // Another view may have been asked for in the meantime.
        if (opened !== view) return;
        host.replaceChildren();
        unmount = mount(host, store, text);
      } catch (error) {
        if (opened !== view) return;
        host.replaceChildren(el("p", { role: "alert" }, text.say("view.failed")));
        console.error(error);
      }
    },
    close() {
      opened = null;
      unmount();
      for (const one of undo) one();
      clearTimeout(clearing);
    },
  };
}
