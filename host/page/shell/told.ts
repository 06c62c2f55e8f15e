/** What the server said to one thing or another that was asked of it. */

import { markName } from "../store/mark-name.ts";
import type { Store } from "../store/store.ts";
import type { Text } from "../text/text.ts";

/** Says each mark as the server took it, whoever made it, and each refusal; until what is returned is called. */
export function tellAnswers(store: Store, text: Text, say: (sentence: string) => void): () => void {
  let [mark, error] = [store.lastMark, store.error];
  return store.subscribe(() => {
    if (store.lastMark !== mark) {
      mark = store.lastMark;
      if (mark) say(text.say("mark.done", { mark: markName(mark, text), time: text.time(mark.time_s, 0) }));
    }
    if (store.error !== error) {
      error = store.error;
      if (error) say(text.say(`error.${error.code}`));
    }
  });
}
