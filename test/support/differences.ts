/** Differences between two bent copies of the small specification, as lines that a test can write out by hand. */
import { compareLayouts } from "../../protocol/model/compare.ts";
import { compile } from "../../protocol/model/layout.ts";
import { type Bent, bent } from "./small-specification.ts";

/** What is bent before (nothing, where left out) and after, and every line the two must give, in order. */
export interface Difference {
  readonly was?: (s: Bent) => void;
  readonly now: (s: Bent) => void;
  readonly lines: readonly string[];
}

/** `effect code path: was -> now` of each change. */
export function linesOf({ was = () => undefined, now }: Difference): string[] {
  return compareLayouts(compile(bent(was)), compile(bent(now))).map(
    ({ effect, code, path, was: before, now: after }) => `${effect} ${code} ${path}: ${before} -> ${after}`,
  );
}
