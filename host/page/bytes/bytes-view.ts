/** Bytes: what exactly did the tag say? */
import "../styles/bytes.css";
import { parseHex } from "../../../protocol/index.ts";
import type { WordsRecord } from "../../view/messages.ts";
import { el, setText } from "../dom/element.ts";
import { sign } from "../now/doubts.ts";
import { onFrame } from "../shell/on-frame.ts";
import type { Mount } from "../shell/view.ts";
import { shownOf } from "../store/shown.ts";
import type { Site } from "../store/site.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";
import { type Board, boardOf } from "./board.ts";
import { makePaste } from "./paste.ts";
import { makeWordPanel } from "./word-panel.ts";
import { makeWordTables, type Place } from "./word-tables.ts";

export const mount: Mount = (host, store, text) => {
  const { tools } = store;
  let hovered: Place | null = null;
  /** Words kept still while the tag goes on; null: the latest. */
  let held: { readonly epc: string; readonly words: readonly WordsRecord[] } | null = null;

  const chips = el("div", { class: "picks", role: "group", "aria-label": text.say("bytes.source") });
  const hold = el("button", { type: "button", "aria-pressed": "false" }, text.say("bytes.hold"));
  const age = el("p", { class: "soft words-age" });
  const slots = el("p", { class: "words-slots" });
  const unread = el("p", { class: "word-fault" });
  const empty = el("p", { class: "soft" });
  const panel = makeWordPanel(text);
  const tables = makeWordTables(text, {
    hover: (place) => {
      hovered = place;
      store.changed();
    },
    choose: (place) => {
      tools.word = place;
      store.changed();
    },
  });
  const paste = makePaste(tools, text, () => store.changed());
  host.append(
    el("div", { class: "bytes-tools" }, chips, hold),
    paste.element,
    age,
    unread,
    slots,
    empty,
    el("div", { class: "bytes-board" }, tables.element, panel.element),
    el("p", { class: "soft" }, text.say("bytes.keys")),
  );
  hold.addEventListener("click", () => {
    const site = siteOf(store);
    held = held || !site ? null : { epc: site.epc, words: [...site.words.values()] };
    hold.setAttribute("aria-pressed", String(held !== null));
    store.changed();
  });

  const drawChips = makeChips(chips, store, text, () => {
    held = null;
    hold.setAttribute("aria-pressed", "false");
    store.changed();
  });
  const boards = new BoardOfWords();
  const draw = () => {
    drawChips();
    const site = tools.pasting ? null : siteOf(store);
    const words = site === null ? [] : held?.epc === site.epc ? held.words : [...site.words.values()];
    const board = tools.pasting ? paste.board : boards.of(words);
    paste.element.hidden = !tools.pasting;
    hold.hidden = tools.pasting;
    setText(age, site && words.length > 0 ? ageOf(words, site, store, text) : "");
    drawUnread(unread, site, text);
    const { choice } = board;
    const newest = choice?.slot ? `slot_${choice.slot}` : null;
    drawChoice(slots, board, text);
    setText(empty, tools.pasting || board.groups.length > 0 ? "" : text.say("bytes.none"));
    const looked = hovered ?? tools.word;
    tables.draw(board, newest, tools.word);
    panel.draw(find(board, looked));
  };
  return onFrame(store, draw);
};

/** The one that was chosen, else the first that has words, else the first. */
function siteOf({ sites, tools }: Store): Site | null {
  const all = [...sites.values()];
  return (
    (tools.bytesOf === null ? undefined : sites.get(tools.bytesOf)) ??
    all.find(({ words }) => words.size > 0) ??
    all[0] ??
    null
  );
}

/** Explains words anew only where they changed. */
class BoardOfWords {
  #key = "";
  #board: Board = { groups: [], choice: null };

  of(words: readonly WordsRecord[]): Board {
    const shown = words.filter(({ bank }) => bank === "user").sort((a, b) => a.word - b.word);
    const key = shown.map(({ word, hex }) => `${word}:${hex}`).join();
    if (key === this.#key) return this.#board;
    this.#key = key;
    const boards = shown.map(({ word, hex }) => {
      const bytes = parseHex(hex);
      return bytes instanceof Uint8Array ? boardOf(bytes, word) : { groups: [], choice: null };
    });
    const choice = boards.find((board) => board.choice !== null)?.choice ?? null;
    this.#board = { groups: boards.flatMap(({ groups }) => groups), choice };
    return this.#board;
  }
}

function find({ groups }: Board, place: Place | null) {
  for (const record of groups.flat()) {
    const word = record.words.find((one) => record.region === place?.region && one.word === place.word);
    if (word) return { record, word };
  }
  return null;
}

function ageOf(words: readonly WordsRecord[], site: Site, store: Store, text: Text): string {
  const latestS = Math.max(...words.map(({ time_s }) => time_s));
  const age = text.age(Math.max(0, store.clock.nowS - latestS));
  const { shows } = shownOf(site.latest, store.clock.nowS);
  return text.say(shows === "stale" ? "bytes.age.stale" : "bytes.age", { age });
}

function drawUnread(element: HTMLElement, site: Site | null, text: Text): void {
  const sentence = site?.unread ? text.say("now.unread", { reason: text.reason(site.unread.reason) }) : "";
  if (element.textContent === sentence) return;
  element.replaceChildren(...(sentence ? [sign("invalid"), sentence] : []));
}

/** Which slot counts, or why none does. */
function drawChoice(element: HTMLElement, { choice }: Board, text: Text): void {
  let sentence = "";
  if (choice?.slot) sentence = text.say("bytes.choice", { slot: choice.slot.toUpperCase() });
  else if (choice?.fault) {
    const { code, expected, actual } = choice.fault;
    sentence = `${text.say("bytes.choice.none", { reason: text.reason(code) })} (${text.say("bytes.expected", { expected, actual })})`;
  }
  setText(element, sentence);
}

/** One chip a tag, and one for a dump. */
function makeChips(host: HTMLElement, store: Store, text: Text, changed: () => void): () => void {
  const { tools } = store;
  const chip = (id: string, label: string, choose: () => void) => {
    const act = () => {
      choose();
      changed();
    };
    return el("button", { type: "button", "data-chip": id, on: { click: act } }, label);
  };
  let built = "";
  return () => {
    const sites = [...store.sites.values()];
    const key = sites.map(({ epc, label }) => `${epc} ${label}`).join();
    if (key !== built || host.childElementCount === 0) {
      built = key;
      const focused = document.activeElement?.getAttribute("data-chip");
      host.replaceChildren(
        ...sites.map(({ epc, label }) =>
          chip(epc, label, () => {
            tools.bytesOf = epc;
            tools.pasting = false;
          }),
        ),
        chip("dump", text.say("bytes.dump.chip"), () => (tools.pasting = true)),
      );
      if (focused) host.querySelector<HTMLElement>(`[data-chip="${focused}"]`)?.focus();
    }
    const chosen = tools.pasting ? "dump" : siteOf(store)?.epc;
    for (const one of host.children) one.setAttribute("aria-pressed", String(one.getAttribute("data-chip") === chosen));
  };
}
