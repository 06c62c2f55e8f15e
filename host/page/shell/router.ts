/** Which view is open, by the address: `#now`. */
import type { View } from "./view.ts";

/** The view an address names, or the first. */
export function viewAt(hash: string, views: readonly View[]): View {
  return views.find(({ id }) => `#${id}` === hash) ?? views[0]!;
}

/** Calls `open` now and whenever the address changes. */
export function route(views: readonly View[], open: (view: View, first: boolean) => void): void {
  addEventListener("hashchange", () => open(viewAt(location.hash, views), false));
  open(viewAt(location.hash, views), true);
}
