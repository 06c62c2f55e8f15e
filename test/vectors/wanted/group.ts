import type { AnyVectorFile } from "./vector-set.ts";

/** One kind of thing that vectors must show: what is wanted, and what a set of vectors shows. Both are the same texts. */
export interface Group {
  readonly name: string;
  readonly wanted: readonly string[];
  readonly shown: (files: readonly AnyVectorFile[]) => ReadonlySet<string>;
}
