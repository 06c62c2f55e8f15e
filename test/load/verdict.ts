/** What must hold of a session, whatever was done to it. */
import { type Figures, KILLS } from "./scenes.ts";

interface Wanted {
  /** Exit status of `plyframe read`. */
  readonly status: number;
  /** Sessions in the capture at least; a line on which nothing comes for too long begins one more. */
  readonly headers: number;
  /** Readings that may be shown and not kept, and lines that may be cut off: those under way when the program was killed. */
  readonly atRisk: number;
  /** Exit status of a kit whose device vanished. */
  readonly kitStatus: number | null;
}

const PEACE: Wanted = { status: 0, headers: 1, atRisk: 0, kitStatus: null };

const WANTED: { readonly [scene: string]: Wanted } = {
  steady: PEACE,
  "unplugged and plugged in": { ...PEACE, headers: 2, kitStatus: 3 },
  noise: PEACE,
  "disk full": { ...PEACE, status: 3 },
  "killed and resumed": { ...PEACE, headers: 1 + KILLS, atRisk: KILLS },
};

/** Every promise that was not kept, in words; none when all is well. */
export function faultsOf(found: Figures): string[] {
  const faults: string[] = [];
  const must = (holds: boolean, says: string) => {
    if (!holds) faults.push(says);
  };
  const { status, headers, atRisk, kitStatus } = WANTED[found.scene]!;
  const full = found.scene === "disk full";
  must(found.kept > 0 && found.shown > 0, "something is read and kept");
  must(found.wrong === 0, `${found.wrong} reports kept that were not said so, or not then`);
  must(found.status === status, `read ended with ${found.status}, not ${status}`);
  must(found.kitStatus === kitStatus, `kit ended with ${found.kitStatus}, not ${kitStatus}`);
  must(found.headers >= headers, `${found.headers} headers, not ${headers}`);
  must(found.torn <= (full ? 1 : 0), `${found.torn} lines cut off`);
  must(found.mended <= atRisk, `${found.mended} lines taken out, at most ${atRisk} were under way`);
  // What a full disk refused is lost to the capture, and said.
  if (full) must(found.lost > 0, "the disk was never full");
  else must(found.lost <= atRisk, `${found.lost} readings were shown and not kept`);
  if (found.scene !== "noise") must(found.missing === 0, `${found.missing} reports are missing in between`);
  must(found.unreadable === found.torn, `decode tells of ${found.unreadable} lines, ${found.torn} were cut off`);
  return faults;
}
