/** Tables of the words: a record a table, its two copies side by side, every word a button. */

import { el, setAttribute, setText } from "../dom/element.ts";
import { sign } from "../now/doubts.ts";
import type { PlainKey, Text } from "../text/text.ts";
import { type Board, bitsIn, type ShownRecord, type ShownWord } from "./board.ts";
import { fieldWords } from "./field-words.ts";

export interface Place {
  readonly region: string;
  readonly word: number;
}

export interface WordTables {
  readonly element: HTMLElement;
  /** `newest`: region whose frame counts; `held`: the word that is looked at. */
  draw(board: Board, newest: string | null, held: Place | null): void;
}

interface Acts {
  /** Looked at in passing; null: no longer. */
  readonly hover: (place: Place | null) => void;
  readonly choose: (place: Place) => void;
}

export function makeWordTables(text: Text, acts: Acts): WordTables {
  const element = el("div", { class: "word-tables", role: "group", "aria-label": text.say("bytes.words") });
  let shape = "";
  let board: Board = { groups: [], choice: null };
  const buttons = new Map<string, HTMLButtonElement>();
  const verdicts = new Map<string, HTMLElement>();

  const placeOf = (target: EventTarget | null): Place | null => {
    const button = target instanceof Element ? target.closest<HTMLElement>("[data-word]") : null;
    return button ? { region: button.dataset.region!, word: Number(button.dataset.word) } : null;
  };
  element.addEventListener(
    "pointerover",
    (event) => event.pointerType === "mouse" && acts.hover(placeOf(event.target)),
  );
  element.addEventListener("pointerleave", () => acts.hover(null));
  element.addEventListener("focusin", (event) => {
    const place = placeOf(event.target);
    if (place) acts.choose(place);
  });
  // Where a tap does not focus a button, it still chooses its word.
  element.addEventListener("click", (event) => {
    const place = placeOf(event.target);
    if (place) acts.choose(place);
  });
  element.addEventListener("keydown", (event) => {
    const place = placeOf(event.target);
    const next = place && neighbour(board, place, event.key);
    if (!next) return;
    event.preventDefault();
    buttons.get(keyOf(next))?.focus();
  });

  const build = () => {
    buttons.clear();
    verdicts.clear();
    element.replaceChildren(...board.groups.map((group) => table(group, text, buttons, verdicts)));
  };

  return {
    element,
    draw(next, newest, held) {
      board = next;
      const records = board.groups.flat();
      const now = records.map(({ region, words }) => `${region}:${words.length}`).join();
      if (now !== shape) {
        shape = now;
        build();
      }
      const first = records[0]?.words[0];
      const stop =
        held && buttons.has(keyOf(held)) ? held : first ? { region: records[0]!.region, word: first.word } : null;
      for (const record of records) {
        drawVerdict(verdicts.get(record.region)!, record, newest === record.region, text);
        for (const word of record.words) {
          const place = { region: record.region, word: word.word };
          const button = buttons.get(keyOf(place))!;
          const chosen = held !== null && keyOf(held) === keyOf(place);
          drawWord(button, word, chosen, text);
          button.tabIndex = stop !== null && keyOf(stop) === keyOf(place) ? 0 : -1;
        }
      }
    },
  };
}

function keyOf({ region, word }: Place): string {
  return `${region} ${word}`;
}

function table(
  group: readonly ShownRecord[],
  text: Text,
  buttons: Map<string, HTMLButtonElement>,
  verdicts: Map<string, HTMLElement>,
): HTMLElement {
  const { record } = group[0]!.explanation;
  const heads = group.map(({ region }) => {
    const verdict = el("span", { class: "verdict" });
    verdicts.set(region, verdict);
    return el(
      "th",
      { scope: "col" },
      el("span", { class: "region" }, text.say(`bytes.region.${region}` as PlainKey)),
      verdict,
    );
  });
  const longest = Math.max(...group.map(({ words }) => words.length));
  const rows = Array.from({ length: longest }, (_, i) => {
    const names = record.fields.filter((field) => bitsIn({ field, byte: field.byte }, 2 * i) !== null);
    const cells = group.map(({ region, words }) => {
      const word = words[i];
      if (!word) return el("td", {}, el("span", { class: "soft" }, text.say("bytes.notArrived")));
      const place = { region, word: word.word };
      const button = el("button", { type: "button", class: "word", "data-word": word.word, "data-region": region });
      buttons.set(keyOf(place), button);
      return el("td", {}, button);
    });
    return el("tr", {}, el("th", { scope: "row" }, names.map(({ id }) => id).join(", ")), ...cells);
  });
  return el(
    "table",
    { class: "words" },
    el("caption", {}, text.say(`bytes.record.${record.id}` as PlainKey)),
    el("thead", {}, el("tr", {}, el("th", { scope: "col" }, text.say("bytes.fields")), ...heads)),
    el("tbody", {}, ...rows),
  );
}

function drawVerdict(element: HTMLElement, { explanation: { fault } }: ShownRecord, newest: boolean, text: Text): void {
  const key = `${fault?.code} ${newest}`;
  if (element.dataset.key === key) return;
  element.dataset.key = key;
  const empty = fault?.code === "record-empty";
  element.className = `verdict verdict-${fault === null ? "good" : empty ? "empty" : "bad"}`;
  const says = fault === null ? text.say(newest ? "bytes.newest" : "bytes.whole") : text.reason(fault.code);
  element.replaceChildren(...(fault === null || empty ? [] : [sign("invalid")]), says);
}

function drawWord(button: HTMLButtonElement, word: ShownWord, chosen: boolean, text: Text): void {
  setAttribute(button, "aria-pressed", String(chosen));
  const key = `${word.hex} ${word.faulty} ${word.fields.map(({ raw }) => raw).join()}`;
  if (button.dataset.key === key) return;
  button.dataset.key = key;
  setText(button, word.hex);
  button.classList.toggle("faulty", word.faulty);
  const fields = word.fields.map((field) => {
    const { value, unit } = fieldWords(field, text);
    return `${field.field.id} ${value}${unit ? ` ${unit}` : ""}`;
  });
  const spoken = [text.say("bytes.word.spoken", { word: String(word.word), hex: word.hex }), ...fields];
  if (word.faulty) spoken.push(text.say("bytes.rejected"));
  button.setAttribute("aria-label", spoken.join(", "));
}

/** Up and down through the tables, left and right to the other copy, Home and End; null where there is none. */
export function neighbour({ groups }: Board, { region, word }: Place, key: string): Place | null {
  const records = groups.flat();
  const all = records.flatMap((record) => record.words.map((one) => ({ region: record.region, word: one.word })));
  const at = all.findIndex((one) => one.region === region && one.word === word);
  if (at < 0) return null;
  const group = groups.find((copies) => copies.some((record) => record.region === region))!;
  const column = group.findIndex((record) => record.region === region);
  const row = word - group[column]!.words[0]!.word;
  const beside = (by: -1 | 1) => {
    const copy = group[column + by];
    const found = copy?.words[row];
    return found ? { region: copy!.region, word: found.word } : null;
  };
  switch (key) {
    case "ArrowDown":
      return all[at + 1] ?? null;
    case "ArrowUp":
      return all[at - 1] ?? null;
    case "ArrowRight":
      return beside(1);
    case "ArrowLeft":
      return beside(-1);
    case "Home":
      return all[0]!;
    case "End":
      return all.at(-1)!;
    default:
      return null;
  }
}
