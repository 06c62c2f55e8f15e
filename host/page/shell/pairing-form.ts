/** Asks for the code that the terminal shows. */
import { el, setText } from "../dom/element.ts";
import { type Pairing, pair } from "../feed/feed.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";

export function pairingForm(host: HTMLElement, store: Store, text: Text, paired: () => void): () => void {
  const code = el("input", {
    id: "pair-code",
    type: "text",
    autocomplete: "off",
    autocapitalize: "characters",
    spellcheck: "false",
    maxlength: 20,
    required: true,
    "aria-describedby": "pair-why pair-result",
  });
  const result = el("p", { id: "pair-result", role: "alert" });
  const go = el("button", { type: "submit", class: "main" }, text.say("pair.go"));
  const submit = async (event: Event) => {
    event.preventDefault();
    go.disabled = true;
    const answer = await pair(code.value);
    go.disabled = false;
    setText(result, answer.result === "paired" ? "" : sentence(answer, text));
    if (answer.result === "paired") paired();
    else code.select();
  };
  const form = el(
    "form",
    { class: "pairing", "aria-labelledby": "pair-title", hidden: true, on: { submit } },
    el("h2", { id: "pair-title" }, text.say("pair.title")),
    el("p", { id: "pair-why" }, text.say("pair.why")),
    el("label", { for: "pair-code" }, text.say("pair.code")),
    code,
    go,
    result,
  );
  host.append(form);
  const draw = () => {
    const hidden = store.link !== "unpaired";
    if (form.hidden === hidden) return;
    form.hidden = hidden;
    if (!hidden) code.focus();
  };
  draw();
  return store.subscribe(draw);
}

function sentence(answer: Exclude<Pairing, { readonly result: "paired" }>, text: Text): string {
  if (answer.result === "wait") return text.say("pair.wait", { seconds: String(answer.seconds) });
  return text.say(`pair.${answer.result as "wrong" | "over" | "unreachable"}`);
}
