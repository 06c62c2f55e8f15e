/** Every checksum: whole, and with a change in each byte it covers, each byte of its own, and each word torn. */
import { layout } from "../../../protocol/index.ts";
import type { Group } from "./group.ts";
import { memoryRecords } from "./raw-fields.ts";

const sealed = layout.records.flatMap(({ id, bytes, fields }) => {
  const values = fields.filter(({ type }) => type !== "constant" && type !== "checksum");
  // Words that hold constants alone are the same in every record: no tear behind them shows.
  const fixed = Math.min(...values.map(({ byte }) => byte)) >> 1;
  return fields
    .filter(({ type }) => type === "checksum")
    .map(({ path, over }) => ({ id, bytes, path, fixed, over: over! }));
});
const byteText = (path: string, byte: number) => `${path}: byte ${byte} changed`;
const tornText = (path: string, words: number) => `${path}: torn after word ${words}`;

function changedBytes(a: Uint8Array, b: Uint8Array): number[] {
  return [...a.keys()].filter((byte) => a[byte] !== b[byte]);
}

export const sealGroup: Group = {
  name: "checksums: every byte, every torn word",
  wanted: sealed.flatMap(({ path, bytes, fixed, over }) => [
    `${path}: whole`,
    ...Array.from({ length: bytes }, (_, byte) => byteText(path, byte)),
    // The EPC bank's checksum stands first, so a torn write of it is any change behind it.
    ...(over[0] === 0 ? Array.from({ length: bytes / 2 - 1 - fixed }, (_, i) => tornText(path, i + 1 + fixed)) : []),
  ]),
  shown(files) {
    const shown = new Set<string>();
    for (const { record, bytes, repaired, vector } of memoryRecords(files)) {
      const { reason, path = "" } = vector.expected;
      const own = sealed.find(({ id }) => id === record.id);
      if (own && reason === undefined) shown.add(`${own.path}: whole`);
      if (reason !== "checksum-mismatch" || repaired.length !== bytes.length) continue;
      const changed = changedBytes(bytes, repaired);
      if (changed.length === 1) shown.add(byteText(path, changed[0]!));
      if (vector.flags.includes("Torn")) shown.add(tornText(path, changed[0]! >> 1));
    }
    return shown;
  },
};
