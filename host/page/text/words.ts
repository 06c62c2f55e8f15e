/** What a language has to have: whatever English has. */
import type { FindingCode } from "../../calibrate/finding.ts";
import type { en } from "./en.ts";

export type Key = keyof typeof en.say;

/** By the words of the published readings. */
export type BandWord = keyof typeof en.bands;

export interface Words {
  readonly say: { readonly [K in Key]: string };
  readonly cautions: readonly string[];
  readonly bands: { readonly [word in BandWord]: string };
  readonly bandBoundary: string;
  readonly bandEdges: string;
  readonly reasons: (typeof en)["reasons"];
  /** Null: the server's own sentences are in this language. */
  readonly findings: { readonly [code in FindingCode]: string } | null;
  readonly quality: (typeof en)["quality"];
}
