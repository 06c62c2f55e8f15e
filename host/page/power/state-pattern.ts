/** A pattern for each of firmware's states, so that none is told by its colour alone. */
import type { StateName } from "../../../sim/index.ts";
import { svg } from "../dom/element.ts";

/** What fills a tile of 6 by 6; empty: nothing is drawn, the frame stands alone. */
const TILES: { readonly [state in StateName]: string } = {
  off: "",
  start: "M0 6 6 0M-1 1 1-1M5 7 7 5",
  check: "M3 2.4v1.2",
  convert: "M0 0h6v6H0z",
  frame: "M0 6 6 0M0 0l6 6",
  counters: "M1.5 0v6M4.5 0v6",
  burst: "M0 1.5h6M0 4.5h6",
  sleep: "M0 3h6",
};

/** To be put into a drawing once; `prefix` keeps the names of two drawings apart. */
export function patternDefs(prefix: string): SVGElement {
  return svg(
    "defs",
    {},
    ...Object.entries(TILES).map(([state, path]) =>
      svg(
        "pattern",
        { id: `${prefix}-${state}`, width: 6, height: 6, patternUnits: "userSpaceOnUse" },
        svg("path", { d: path, class: `tile tile-${state}` }),
      ),
    ),
  );
}
