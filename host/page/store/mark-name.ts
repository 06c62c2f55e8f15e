import type { Mark } from "../../view/messages.ts";
import type { Text } from "../text/text.ts";

/** What a mark is called: its kind, or the words of a note where they are known. */
export function markName({ kind, text: words }: Mark, text: Text): string {
  if (kind !== "note") return text.say(`mark.${kind}`);
  return words === "" ? text.say("mark.note.plain") : words;
}
