/** A pasted hex dump: the field for it, what is wrong with it, and its words. */
import { parseDump } from "../../dump/hex-dump.ts";
import { bytesBeyond, guessedWord, user } from "../../dump/placed-parts.ts";
import { el, setText } from "../dom/element.ts";
import { sign } from "../now/doubts.ts";
import type { Tools } from "../store/tools.ts";
import type { PlainKey, Text } from "../text/text.ts";
import { type Board, boardOf } from "./board.ts";

export interface Paste {
  readonly element: HTMLElement;
  /** Empty where nothing can be explained. */
  readonly board: Board;
}

const NOTHING: Board = { groups: [], choice: null };

/** Far more than a bank: what is longer is no dump of one. */
const MOST_CHARACTERS = 20_000;

export function makePaste(tools: Tools, text: Text, changed: () => void): Paste {
  let board = NOTHING;
  const problem = el("p", { class: "word-fault", role: "status", id: "dump-problem" });
  const area = el("textarea", {
    id: "dump",
    rows: 5,
    spellcheck: "false",
    autocomplete: "off",
    autocapitalize: "off",
    maxlength: MOST_CHARACTERS,
    "aria-describedby": "dump-problem",
    placeholder: "2101 0007 00c5 7a31 0bd3 a410 0258 a0cd",
  });
  area.value = tools.pasted;
  const from = el(
    "select",
    { id: "dump-from" },
    el("option", { value: "" }, text.say("bytes.dump.guess")),
    ...user.regions.map(({ id, word }) =>
      el("option", { value: word }, `${word} · ${text.say(`bytes.region.${id}` as PlainKey)}`),
    ),
  );
  from.value = tools.pastedFrom === null ? "" : String(tools.pastedFrom);
  const goTo = el("button", { type: "button", hidden: true }, text.say("bytes.dump.goTo"));
  let faultAt = 0;
  goTo.addEventListener("click", () => {
    area.focus();
    area.setSelectionRange(faultAt, faultAt + 1);
  });

  const say = (sentence: string | null, place: number | null) => {
    goTo.hidden = place === null;
    faultAt = place ?? 0;
    if (sentence === null) problem.replaceChildren();
    else if (problem.textContent !== sentence) problem.replaceChildren(sign("invalid"), sentence);
  };
  const read = () => {
    tools.pasted = area.value;
    tools.pastedFrom = from.value === "" ? null : Number(from.value);
    board = NOTHING;
    const bytes = parseDump(area.value);
    if (!(bytes instanceof Uint8Array)) {
      const { code, line, character, actual, place } = bytes;
      const where = { line: String(line), character: String(character) };
      const odd = code === "hex-odd-length";
      say(odd ? text.say("bytes.dump.odd", where) : text.say("bytes.dump.digit", { ...where, actual }), place);
    } else if (bytes.length === 0) say(null, null);
    else {
      const word = tools.pastedFrom ?? guessedWord(bytes);
      if (word === null) say(text.say("bytes.dump.unknown"), null);
      else {
        board = boardOf(bytes, word);
        const beyond = bytesBeyond(bytes.length, word);
        say(beyond > 0 ? text.say("bytes.dump.beyond", { count: String(beyond) }) : null, null);
      }
    }
    changed();
  };
  area.addEventListener("input", read);
  from.addEventListener("input", read);
  const count = el("p", { class: "soft" });
  setText(count, text.say("bytes.dump.what"));
  const element = el(
    "div",
    { class: "dump" },
    el("label", { for: "dump" }, text.say("bytes.dump")),
    area,
    el("div", { class: "choice" }, el("label", { for: "dump-from" }, text.say("bytes.dump.from")), from),
    problem,
    goTo,
    count,
  );
  read();
  return {
    element,
    get board() {
      return board;
    },
  };
}
