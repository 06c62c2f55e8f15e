/** The ambient source as it is typed after --ambient. */
import type { AmbientSource } from "../readings/ambient.ts";
import { PASCAL_PER_MMHG } from "../readings/pressure.ts";
import { CommandError, EXIT } from "./exit.ts";

const PASCAL: Readonly<Record<string, number>> = { hPa: 100, Pa: 1, kPa: 1000, mmHg: PASCAL_PER_MMHG, mbar: 100 };

/**
 * `kit`, `none`, `tag:EPC` (hex), or a pressure with its unit and, when it is known, its expanded uncertainty (k = 2):
 * `1013.2hPa`, `1013.2+-0.5hPa`. Throws a CommandError of wrong use for anything else.
 */
export function ambientSource(text: string): AmbientSource {
  if (text === "kit") return { kind: "kit_barometer" };
  if (text === "none") return { kind: "none" };
  const tag = /^tag:((?:[0-9a-f]{4})+)$/i.exec(text);
  if (tag) return { kind: "outside_tag", epc: tag[1]!.toLowerCase() };
  const typed = /^([0-9]+(?:\.[0-9]+)?)\s*(?:(?:\+-|\+\/-|±)\s*([0-9]+(?:\.[0-9]+)?))?\s*(hPa|Pa|kPa|mmHg|mbar)$/.exec(
    text,
  );
  if (!typed) {
    throw new CommandError(
      EXIT.usage,
      `--ambient ${text}: give "kit", "none", "tag:EPC" or a pressure with its unit, such as 1013.2hPa or 1013.2+-0.5hPa`,
    );
  }
  const factor = PASCAL[typed[3]!]!;
  const pressurePa = Number(typed[1]) * factor;
  if (!(pressurePa >= 26_000 && pressurePa <= 126_000)) {
    throw new CommandError(EXIT.usage, `--ambient ${text}: an ambient pressure lies between 260 and 1260 hPa`);
  }
  return {
    kind: "typed",
    pressurePa,
    expandedUncertaintyPa: typed[2] === undefined ? null : Number(typed[2]) * factor,
  };
}

/** Said once where readings come from an LLRP reader and nobody gave an ambient pressure. */
export const NO_BAROMETER =
  "An LLRP reader has no barometer, so pressures are absolute only: give --ambient 1013.2hPa or --ambient tag:EPC.";
