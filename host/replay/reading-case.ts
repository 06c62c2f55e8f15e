/** Questions about a calibrated pressure: words of memory and an ambient to integers that need no floating point to compare. */
import type { Pairs } from "./answer.ts";
import { badAnswer, type Expected, goodAnswer, must, type ReplayCase } from "./replay-case.ts";
import type { Vector } from "./vector-set.ts";

/** Members of a calibrated-reading vector; vectors/README.md says what each holds. */
interface Given {
  readonly user_words_0_31: string;
  readonly user_words_40_71: string;
  readonly ambient: { readonly pressure_raw: number; readonly expanded_uncertainty_pa: number | null } | null;
}

interface Calibrated {
  readonly slot: string;
  readonly calibration_copy: number | null;
  readonly absolute_raw: number | null;
  readonly gauge_raw: number | null;
  readonly gauge_mmhg: string | null;
  readonly expanded_uncertainty_pa: string | null;
}

export function readingCase(vector: Vector): Omit<ReplayCase, "id" | "group" | "why"> {
  const { expected } = vector;
  const right: Expected =
    expected.verdict === "bad"
      ? badAnswer(expected.reason as string, expected as unknown as Parameters<typeof badAnswer>[1])
      : goodAnswer(readingKeys(expected as unknown as Calibrated));
  const given = readingPairs(vector as unknown as Given);
  return { verb: "reading", needs: "reading", about: "reading", given, expected: right };
}

/** What a program is given for a reading. */
export function readingPairs({ user_words_0_31, user_words_40_71, ambient }: Given): Pairs {
  return [
    ["memory", user_words_0_31],
    ["calibration", user_words_40_71],
    ["ambient_raw", orNone(ambient?.pressure_raw)],
    ["ambient_uncertainty_pa", orNone(ambient?.expanded_uncertainty_pa)],
  ];
}

function readingKeys(expected: Calibrated) {
  return [
    must("slot", expected.slot),
    must("copy", orNone(expected.calibration_copy)),
    must("absolute_raw", orNone(expected.absolute_raw)),
    must("gauge_raw", orNone(expected.gauge_raw)),
    must("gauge_thousandths_mmhg", orNone(thousandths(expected.gauge_mmhg))),
    must("uncertainty_thousandths_pa", orNone(thousandths(expected.expanded_uncertainty_pa))),
  ];
}

function orNone(value: number | string | null | undefined): string {
  return value === null || value === undefined ? "none" : `${value}`;
}

/** A decimal of nine places as a whole number of thousandths, ties away from zero. */
function thousandths(decimal: string | null): string | null {
  if (decimal === null) return null;
  const [, sign, whole, fraction] = /^(-?)(\d+)\.(\d{9})$/.exec(decimal)!;
  const billionths = BigInt(`${whole}${fraction}`);
  const rounded = (billionths + 500_000n) / 1_000_000n;
  return rounded === 0n ? "0" : `${sign}${rounded}`;
}
