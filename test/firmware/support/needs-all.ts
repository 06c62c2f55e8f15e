import { needs } from "../../support/outside.ts";

/** `needs` for several programs: the first missing one is named. */
export function needsAll(programs: readonly string[], suite: () => void): void {
  programs.reduceRight<() => void>((inner, program) => () => needs(program, inner), suite)();
}
