/** The simplest model the data support: offset and gain, and each further term only when the data ask for it. */
import type { BenchPoint } from "./bench-points.ts";
import { type CellFit, fitCell, type TermId } from "./cell-model.ts";
import { fTail } from "./distributions.ts";
import { RegressionError } from "./regression.ts";

/** A term is kept when its F test is beyond this and Akaike's criterion falls by more than `LEAST_GAIN`. */
export const SIGNIFICANCE = 0.01;
export const LEAST_GAIN = 2;

/** Temperatures closer together than this say nothing of a temperature term. */
const LEAST_SPREAD_K = 3;

/** A residual below this variance (half a step of the tag's pressure, rectangular) is no reason for a term. */
const FLOOR_PA2 = (1 / 128) ** 2 / 12;

/** What was found about one term: kept or left out, and the reason in words. */
export interface TermVerdict {
  readonly term: TermId;
  readonly kept: boolean;
  readonly reason: string;
  /** Null where the term was not tried. */
  readonly f: number | null;
  readonly p: number | null;
  /** Fall of AICc when the term comes in. */
  readonly aiccFall: number | null;
}

export interface ModelChoice {
  readonly fit: CellFit;
  readonly verdicts: readonly TermVerdict[];
}

const termNames: { readonly [term in TermId]: string } = {
  offset: "offset",
  gain: "gain",
  temperature_effect: "temperature effect",
  gain_temperature: "change of the gain with temperature",
  curvature: "curvature",
};

/** Name of a term in words. */
export function termName(term: TermId): string {
  return termNames[term];
}

/**
 * Forward choice by nested F tests and AICc (Akaike's criterion corrected for few points). Without points or with pressures
 * at one level only the offset is fitted, with the gain as designed. Throws a RegressionError without a point.
 */
export function chooseModel(points: readonly BenchPoint[], referenceC: number, designedGain: number): ModelChoice {
  const levels = new Set(points.map(({ levelPa }) => levelPa)).size;
  const base: TermId[] = levels > 1 ? ["offset", "gain"] : ["offset"];
  let fit = fitCell(points, base, referenceC, designedGain);
  const verdicts: TermVerdict[] = base.map((term) => ({ ...untried(term, "always part of the model"), kept: true }));
  if (levels === 1) verdicts.push(untried("gain", `taken as designed, ${designedGain}: there is one pressure only`));
  const open = new Set<TermId>(["temperature_effect", "curvature", "gain_temperature"]);
  for (;;) {
    const tried = [...open].map((term) => tryTerm(points, fit, term, levels, designedGain));
    const best = tried
      .filter(({ verdict }) => verdict.kept)
      .sort((a, b) => b.verdict.aiccFall! - a.verdict.aiccFall!)[0];
    if (!best) return { fit, verdicts: [...verdicts, ...tried.map(({ verdict }) => verdict)] };
    fit = best.fit!;
    verdicts.push(best.verdict);
    open.delete(best.verdict.term);
  }
}

interface Tried {
  readonly verdict: TermVerdict;
  readonly fit: CellFit | null;
}

function tryTerm(points: readonly BenchPoint[], now: CellFit, term: TermId, levels: number, gain: number): Tried {
  const lacking = lackingFor(points, now, term, levels);
  if (lacking !== null) return { verdict: untried(term, `not tried: ${lacking}`), fit: null };
  let fit: CellFit;
  try {
    fit = fitCell(points, [...now.terms, term], now.referenceC, gain);
  } catch (error) {
    if (!(error instanceof RegressionError)) throw error;
    return { verdict: untried(term, `not tried: the points do not tell it from the other terms`), fit: null };
  }
  const n = points.length;
  const dof = fit.regression.degreesOfFreedom;
  const [before, after] = [now, fit].map(({ regression }) =>
    Math.max(regression.residualSumOfSquares, n * FLOOR_PA2),
  ) as [number, number];
  const f = ((before - after) / after) * dof;
  const p = fTail(f, [1, dof]);
  const aiccFall = aicc(before, n, now.terms.length) - aicc(after, n, fit.terms.length);
  const kept = p < SIGNIFICANCE && aiccFall > LEAST_GAIN;
  const [was, is] = [now, fit].map(({ regression }) => `${regression.residualSd.toPrecision(3)} Pa`);
  const numbers = `F(1, ${dof}) = ${f.toPrecision(3)}, p ${p < 1e-12 ? "< 1e-12" : `= ${p.toPrecision(2)}`}`;
  const criterion =
    aiccFall > 0 ? `AICc lower by ${aiccFall.toPrecision(3)}` : `AICc higher by ${(-aiccFall).toPrecision(3)}`;
  const reason = kept
    ? `kept: scatter about the fit falls from ${was} to ${is}; ${numbers}; ${criterion}`
    : `left out: scatter about the fit ${was} without it, ${is} with it; ${numbers}; ${criterion}`;
  return { verdict: { term, kept, reason, f, p, aiccFall }, fit };
}

/** What the data lack to carry a term; null when nothing. */
function lackingFor(points: readonly BenchPoint[], now: CellFit, term: TermId, levels: number): string | null {
  if (points.length < now.terms.length + 3) return `${points.length} points are too few to judge one more term`;
  const temperatures = points.flatMap(({ temperatureC }) => (temperatureC === null ? [] : [temperatureC]));
  const spreadK = temperatures.length === 0 ? 0 : Math.max(...temperatures) - Math.min(...temperatures);
  if (term === "curvature") return levels < 3 ? "it takes three pressures" : null;
  if (temperatures.length < points.length) return "temperatures are missing";
  if (spreadK < LEAST_SPREAD_K) return `temperatures differ by ${spreadK.toFixed(1)} K only`;
  if (term === "temperature_effect") return null;
  if (levels < 2) return "it takes two pressures";
  if (!now.terms.includes("temperature_effect")) return "there is no temperature effect before it";
  const perPlateau = [...new Set(points.map(({ plateau }) => plateau))].map(
    (plateau) => new Set(points.filter((point) => point.plateau === plateau).map(({ levelPa }) => levelPa)).size,
  );
  return perPlateau.filter((count) => count > 1).length < 2 ? "it takes two pressures at two temperatures" : null;
}

function aicc(rss: number, n: number, terms: number): number {
  const k = terms + 1;
  return n * Math.log(rss / n) + 2 * k + (2 * k * (k + 1)) / Math.max(n - k - 1, 0.1);
}

function untried(term: TermId, reason: string): TermVerdict {
  return { term, kept: false, reason, f: null, p: null, aiccFall: null };
}
