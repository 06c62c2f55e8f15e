/** The invented example session of the training leg, as its files stand in vectors/examples/. */
import { resolve } from "node:path";
import { openSession } from "../../host/sessions/open-session.ts";
import { layout } from "../../protocol/index.ts";

export const EXAMPLE_SESSION = resolve(import.meta.dirname, "../../vectors/examples/training-leg.session.json");

export function exampleSession() {
  return openSession(EXAMPLE_SESSION, layout, "plyframe test");
}
