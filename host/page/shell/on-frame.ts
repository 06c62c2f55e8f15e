import type { Store } from "../store/store.ts";

/** Ages go on without news. */
const TICK_MS = 250;

/** Calls `draw` at most once a frame after a change of the store, and four times a second anyway; until what is returned is called. */
export function onFrame(store: Store, draw: () => void): () => void {
  let asked = 0;
  const ask = () => {
    if (asked === 0) asked = requestAnimationFrame(run);
  };
  const run = () => {
    asked = 0;
    draw();
  };
  const unsubscribe = store.subscribe(ask);
  const timer = setInterval(ask, TICK_MS);
  draw();
  return () => {
    unsubscribe();
    clearInterval(timer);
    cancelAnimationFrame(asked);
  };
}
