/** What must hold of a session, whatever was done to it. */
import type { Figures } from "./scenes.ts";

/** Exit status of `plyframe read` by scene; null: killed. */
const STATUS: { readonly [scene: string]: number | null } = { "disk full": 3, killed: null };

/** Every promise that was not kept, in words; none when all is well. */
export function faultsOf(found: Figures): string[] {
  const faults: string[] = [];
  const must = (holds: boolean, says: string) => {
    if (!holds) faults.push(says);
  };
  const wanted = STATUS[found.scene] === undefined ? 0 : STATUS[found.scene];
  const full = found.scene === "disk full";
  const cut = full || found.scene === "killed";
  must(found.kept > 0 && found.shown > 0, "something is read and kept");
  must(found.wrong === 0, `${found.wrong} reports kept that were never said`);
  must(found.status === wanted, `read ended with ${found.status}, not ${wanted}`);
  must(found.torn <= (cut ? 1 : 0), `${found.torn} lines cut off`);
  // What a full disk refused is lost to the capture, and said.
  if (full) must(found.lost > 0, "the disk was never full");
  else must(found.lost <= (cut ? 1 : 0), `${found.lost} readings were shown and not kept`);
  if (found.scene === "steady") must(found.missing === 0, `${found.missing} reports are missing in between`);
  must(found.unreadable === found.torn, `decode tells of ${found.unreadable} lines, ${found.torn} were cut off`);
  return faults;
}
