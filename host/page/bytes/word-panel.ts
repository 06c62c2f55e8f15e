/** The word that is looked at: its bits, and the fields that they belong to. */

import { el } from "../dom/element.ts";
import { sign } from "../now/doubts.ts";
import type { PlainKey, Text } from "../text/text.ts";
import { bitsIn, type ShownRecord, type ShownWord } from "./board.ts";
import { fieldWords } from "./field-words.ts";

export interface WordPanel {
  readonly element: HTMLElement;
  draw(shown: { readonly record: ShownRecord; readonly word: ShownWord } | null): void;
}

export function makeWordPanel(text: Text): WordPanel {
  const element = el("section", { class: "word-panel", id: "word-panel", "aria-label": text.say("bytes.word") });
  let drawn = "";
  return {
    element,
    draw(shown) {
      const key = shown === null ? "none" : `${shown.record.region} ${shown.word.word} ${keyOf(shown.word)}`;
      if (key === drawn) return;
      drawn = key;
      if (shown === null) {
        element.replaceChildren(el("p", { class: "soft" }, text.say("bytes.word.none")));
        return;
      }
      const { record, word } = shown;
      const place = text.say("bytes.word.at", {
        word: String(word.word),
        region: text.say(`bytes.region.${record.region}` as PlainKey),
      });
      const fault = faultLine(record, word, text);
      element.replaceChildren(
        el("h2", {}, `${place}: `, el("span", { class: "hex" }, word.hex)),
        ...(fault ? [fault] : []),
        bitRow(word),
        fieldTable(record, word, text),
      );
    },
  };
}

/** What the bits of all fields in it say; a field may reach beyond the word. */
function keyOf({ hex, faulty, fields }: ShownWord): string {
  return `${hex} ${faulty} ${fields.map(({ raw, reason }) => `${raw} ${reason}`).join()}`;
}

/** What the record is rejected for, where that lies in this word. */
function faultLine({ explanation }: ShownRecord, word: ShownWord, text: Text): HTMLElement | null {
  const { fault } = explanation;
  if (!fault || !word.faulty) return null;
  const { expected, actual } = fault;
  const says = `${text.reason(fault.code)} (${text.say("bytes.expected", { expected, actual })})`;
  return el("p", { class: "word-fault" }, sign("invalid"), `${says} [${fault.code}]`);
}

/** Sixteen bits, highest first, with a step in the ground where one field ends and the next begins. */
function bitRow({ hex, byte, fields }: ShownWord): HTMLElement {
  const value = Number.parseInt(hex.padEnd(4, "0"), 16);
  const owner = (bit: number) =>
    fields.findIndex((field) => {
      const bits = bitsIn(field, byte);
      return bits !== null && bit <= bits.high && bit >= bits.low;
    });
  const bits = Array.from({ length: hex.length * 4 }, (_, i) => 15 - i);
  return el(
    "p",
    { class: "bits", "aria-hidden": "true" },
    ...bits.map((bit, i) => {
      const first = i > 0 && owner(bit) !== owner(bit + 1);
      return el(
        "span",
        { class: `bit bit-${owner(bit) % 2 === 0 ? "even" : "odd"}${first ? " bit-first" : ""}` },
        String((value >> bit) & 1),
      );
    }),
  );
}

function fieldTable(record: ShownRecord, word: ShownWord, text: Text): HTMLElement {
  if (word.fields.length === 0) return el("p", { class: "soft" }, text.say("bytes.word.empty"));
  const heads = ["bytes.field", "bytes.bits", "bytes.raw", "bytes.value", "bytes.unit"] as const;
  const rows = word.fields.map((field) => {
    const { value, unit } = fieldWords(field, text);
    const bits = `${field.field.shift + field.field.width - 1}–${field.field.shift}`;
    const reason = field.reason
      ? el("span", { class: "word-fault" }, sign("invalid"), `${text.reason(field.reason)} [${field.reason}]`)
      : null;
    return el(
      "tr",
      {},
      el("th", { scope: "row" }, field.field.id),
      el("td", { class: "number" }, bits),
      el("td", { class: "number" }, String(field.raw)),
      el("td", {}, value, reason),
      el("td", {}, unit),
    );
  });
  const wide = word.fields.some(({ field }) => field.bytes > 2);
  return el(
    "div",
    { class: "sideways", role: "region", "aria-label": text.say("bytes.fields"), tabindex: 0 },
    el(
      "table",
      { class: "fields" },
      el("thead", {}, el("tr", {}, ...heads.map((key) => el("th", { scope: "col" }, text.say(key))))),
      el("tbody", {}, ...rows),
    ),
    wide ? el("p", { class: "soft" }, text.say("bytes.wide")) : null,
    record.explanation.fault === null ? null : el("p", { class: "soft" }, text.say("bytes.doubtful")),
  );
}
