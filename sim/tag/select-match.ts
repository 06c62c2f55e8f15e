import type { Select } from "../air/command.ts";
import type { TagMemory } from "./memory.ts";

/** Whether a Select's mask fits the tag's memory; bits that do not exist fit nothing, and no bits at all fit every tag. */
export function matches(memory: TagMemory, { bank, pointer, mask }: Select): boolean {
  if (mask.length === 0) return true;
  const first = Math.floor(pointer / 16);
  const count = Math.floor((pointer + mask.length - 1) / 16) - first + 1;
  // Bank 00 holds passwords: a Select must not be a way to guess them.
  const words = bank === 0 ? null : memory.read(bank, first, count, true);
  if (words === null || typeof words === "string") return false;
  return mask.every((bit, i) => {
    const at = (pointer % 16) + i;
    return ((words[Math.floor(at / 16)]! >> (15 - (at % 16))) & 1) === bit;
  });
}
