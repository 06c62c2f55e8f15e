/** The line that says how the feed stands. */
import { el, setAttribute, setText, svg } from "../dom/element.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";
import { onFrame } from "./on-frame.ts";

/** Shapes that go with the words: a knot that is tied, one that is loose, a cut thread. */
const SHAPES = {
  tied: "M1 8h4a3 3 0 1 1 6 0h4M5 8a3 3 0 1 0 6 0",
  loose: "M1 8h3q2-6 4 0t4 0h3",
  cut: "M1 8h5l-2-4M15 8h-5l2 4",
} as const;

/** Word and shape, scene and source, and the server's own sentence where it has one. */
export function feedLine(host: HTMLElement, store: Store, text: Text): () => void {
  const thread = svg("path", { d: SHAPES.loose });
  const word = el("span", { class: "feed-word" });
  const state = el(
    "p",
    { class: "feed", role: "status", "data-feed": "opening" },
    svg("svg", { viewBox: "0 0 16 16" }, thread),
    word,
  );
  // Outside the region that is read aloud: it changes with every try.
  const tries = el("p", { class: "feed-tries" });
  const scene = el("p", { class: "feed-scene" });
  const more = el("p", { class: "feed-more", hidden: true });
  const said = el("p", { class: "feed-more", lang: "en", hidden: true });
  host.append(state, tries, scene, more, said);

  return onFrame(store, () => {
    const { feed } = store;
    setAttribute(state, "data-feed", feed);
    setAttribute(
      thread,
      "d",
      feed === "live" ? SHAPES.tied : feed === "connecting" || feed === "opening" ? SHAPES.loose : SHAPES.cut,
    );
    setText(word, text.say(`feed.${feed}`));
    setText(tries, triesText(store, text));
    setText(scene, sceneText(store, text));
    show(more, moreText(store, text));
    show(said, (store.link === "open" && store.state?.sentence) || "");
  });
}

function show(line: HTMLElement, words: string): void {
  line.hidden = words === "";
  setText(line, words);
}

function triesText({ feed, state }: Store, text: Text): string {
  if (feed !== "reconnecting" || !state) return "";
  const { attempt, next_try_s } = state;
  if (attempt === null || next_try_s === null) return "";
  return text.say("feed.reconnecting.try", { attempt: String(attempt), seconds: text.number(next_try_s, 0) });
}

function sceneText({ hello }: Store, text: Text): string {
  if (!hello) return "";
  const speed =
    hello.speed === 1 ? [] : [text.say("source.speed", { speed: text.number(hello.speed, hello.speed % 1 ? 1 : 0) })];
  return [text.say(`source.${hello.source}`), hello.scene ?? hello.source_name, ...speed].join(" · ");
}

function moreText({ link, keptAt, presence }: Store, text: Text): string {
  const kept = link === "kept" && keptAt ? [text.say("feed.kept.since", { when: text.moment(keptAt) })] : [];
  const dropped = presence?.dropped ? [text.say("feed.dropped", { count: String(presence.dropped) })] : [];
  return [...kept, ...dropped].join(" ");
}
