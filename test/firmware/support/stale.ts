/** Holds a measured figure against the one that is kept. */
import { expect, type TestContext } from "vitest";

/**
 * The same figures pass whatever made them. Other figures are stale when the same tools gave them; with other tools the
 * test is skipped and says so, and with CI=true it fails.
 */
export function expectFresh(
  { skip }: TestContext,
  measured: { readonly tool: string; readonly figures: unknown },
  kept: { readonly tool: string; readonly figures: unknown },
): void {
  if (measured.tool !== kept.tool && process.env.CI !== "true") {
    try {
      expect(measured.figures).toEqual(kept.figures);
    } catch {
      skip(`the table was made with ${kept.tool}, here is ${measured.tool}`);
    }
  } else expect(measured.figures).toEqual(kept.figures);
}
