/** What was chosen in the views of bytes and power; it outlives the view, not the page. */
import { type BudgetInputs, usualInputs } from "../power/inputs.ts";

export class Tools {
  /** EPC whose words are looked at; null: the first site that has any. */
  bytesOf: string | null = null;
  /** The pasted dump is looked at instead. */
  pasting = false;
  pasted = "";
  /** Word at which the pasted dump begins; null: guessed. */
  pastedFrom: number | null = null;
  /** Of the word that is looked at: `slot_a` and its address. */
  word: { readonly region: string; readonly word: number } | null = null;
  budget: BudgetInputs = usualInputs;
  drawn: "start" | "work" = "work";
}
