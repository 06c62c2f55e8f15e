/**
 * Ways in which readers go wrong, each as an exact edit of a kit that is right. Kinds of fault: common practice in reviews
 * of such decoders, no source.
 */

import { cFaults } from "./c-faults.ts";
import type { Edit } from "./edit.ts";
import { linkFaults } from "./link-faults.ts";
import { readingFaults } from "./reading-faults.ts";
import { recordFaults } from "./record-faults.ts";

export interface Fault {
  readonly id: string;
  /** What the kit then does. */
  readonly does: string;
  readonly kit: "python" | "c";
  /** File of the kit; `plyframe.c` is the firmware's codec, of which the C kit is built. */
  readonly file: string;
  readonly find: string;
  readonly replace: string;
  /** Field of the specification that the report must name. */
  readonly field: string;
}

function faults(kit: Fault["kit"], edits: readonly Edit[]): Fault[] {
  return edits.map(([id, does, file, find, replace, field]) => ({ id, does, kit, file, find, replace, field }));
}

/** Every planted fault. */
export const plantedFaults: readonly Fault[] = [
  ...faults("python", [...recordFaults, ...readingFaults, ...linkFaults]),
  ...faults("c", cFaults),
];
