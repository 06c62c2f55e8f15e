/** What the specification, the reasons and the branches ask of the vectors, and what no vector shows. */
import { epcGroup } from "./epc.ts";
import { fieldGroup } from "./fields.ts";
import type { Group } from "./group.ts";
import { lengthGroup } from "./lengths.ts";
import { linkFrameGroup } from "./link-frames.ts";
import { llrpGroup } from "./llrp.ts";
import { messageGroup } from "./messages.ts";
import { orderGroup } from "./order.ts";
import { quantityGroup } from "./quantities.ts";
import { readingGroup } from "./readings.ts";
import { reasonGroup } from "./reasons.ts";
import { sealGroup } from "./seals.ts";
import { slotGroup } from "./slots.ts";
import type { AnyVectorFile } from "./vector-set.ts";
import { writingGroup } from "./writing.ts";

export const groups: readonly Group[] = [
  fieldGroup,
  lengthGroup,
  sealGroup,
  orderGroup,
  reasonGroup,
  quantityGroup,
  writingGroup,
  slotGroup,
  readingGroup,
  messageGroup,
  linkFrameGroup,
  epcGroup,
  llrpGroup,
];

export interface Covered {
  readonly name: string;
  readonly wanted: number;
  /** What is wanted and not shown, in the order of the specification. */
  readonly missing: readonly string[];
}

export function cover(files: readonly AnyVectorFile[]): Covered[] {
  return groups.map(({ name, wanted, shown }) => {
    const seen = shown(files);
    return { name, wanted: wanted.length, missing: wanted.filter((one) => !seen.has(one)) };
  });
}
