/** Traces as lines for a plot: on a common grid of times, never more points than can be told apart, gaps left open. */
import type { Trace } from "../store/trace.ts";

/** One site to be drawn. */
export interface Drawn {
  readonly trace: Trace;
  /** Longest time between two samples that are joined. */
  readonly gapLimitS: number;
}

/**
 * A plot's data: times, then two lines a site, of samples with and without a known uncertainty. `null` breaks a line, `undefined` stands where
 * a site has nothing at a time that another one has.
 */
export type Lines = [times: number[], ...values: (number | null | undefined)[][]];

/**
 * Longest time between two samples that are joined: three sampling periods, so that two missed rounds are no gap yet, and at
 * least half a second, which readings may be late; two seconds where the period is not known. Our choice, no source.
 */
export function gapLimitS(samplingPeriodS: number | null): number {
  return samplingPeriodS === null ? 2 : Math.max(0.5, 3 * samplingPeriodS);
}

/**
 * The samples from `fromS` to `toS` in `columns` columns of equal width, each with its lowest and highest sample in the order they came, so
 * that no peak is lost. Columns begin at whole multiples of their width: what was drawn does not shiver as time goes on.
 */
export function linesOf(drawn: readonly Drawn[], fromS: number, toS: number, columns: number): Lines {
  const widthS = (toS - fromS) / columns;
  const first = Math.floor(fromS / widthS) - 1;
  const rows = 2 * (columns + 3);
  const times = Array.from({ length: rows }, (_, row) => (first + row / 2 + 0.25) * widthS);
  const lines: Lines = [times];
  for (const one of drawn) {
    const known = new Array<number | null | undefined>(rows).fill(undefined);
    const unsure = new Array<number | null | undefined>(rows).fill(undefined);
    draw(one, first, widthS, known, unsure);
    for (const line of [known, unsure]) widenBreaks(line);
    lines.push(known, unsure);
  }
  return lines;
}

type Line = (number | null | undefined)[];

/** What falls into one column. */
interface Column {
  at: number;
  low: number;
  high: number;
  lowFirst: boolean;
  /** Whether the uncertainty of every sample in it is known. */
  sure: boolean;
  /** Whether a gap lies before it. */
  broken: boolean;
}

function draw({ trace, gapLimitS: limitS }: Drawn, first: number, widthS: number, known: Line, unsure: Line): void {
  const columns = known.length / 2;
  const [startS, endS] = [first * widthS, (first + columns) * widthS];
  const [from, to] = [trace.indexAt(startS), trace.indexAt(endS)];
  let column: Column | null = null;
  let lastRow = -1;
  let [lastS, broken] = [Number.NaN, false];

  const put = () => {
    if (!column) return;
    const { at, low, high, lowFirst, sure } = column;
    const row = 2 * at;
    if (column.broken && lastRow >= 0 && lastRow + 1 < row) known[lastRow + 1] = unsure[lastRow + 1] = null;
    const [line, other] = sure ? [known, unsure] : [unsure, known];
    [line[row], line[row + 1]] = lowFirst ? [low, high] : [high, low];
    other[row] = null;
    lastRow = row + 1;
  };
  const take = (timeS: number, value: number, sure: boolean) => {
    if (Number.isNaN(value)) {
      broken = true;
      return;
    }
    if (timeS - lastS > limitS) broken = true;
    lastS = timeS;
    const at = Math.floor(timeS / widthS) - first;
    if (column?.at === at) {
      if (value < column.low) [column.low, column.lowFirst] = [value, false];
      if (value > column.high) [column.high, column.lowFirst] = [value, true];
      column.sure &&= sure;
      return;
    }
    put();
    column = { at, low: value, high: value, lowFirst: true, sure, broken };
    broken = false;
  };

  const left = between(trace, from, startS, limitS);
  if (left) take(startS, left.value, left.sure);
  for (let i = from; i < to; i++) {
    take(trace.timeS(i), trace.gaugeMmhg(i), !Number.isNaN(trace.uncertaintyMmhg(i)));
  }
  const lastColumnS = endS - widthS / 2;
  const right = between(trace, to, lastColumnS, limitS);
  if (right && lastColumnS > lastS) take(lastColumnS, right.value, right.sure);
  put();
}

/** Makes a break as wide as the space between the two samples beside it: the plot leaves open only what is `null` all along. */
function widenBreaks(line: Line): void {
  let last = -1;
  let broken = false;
  line.forEach((value, row) => {
    if (value === null) broken = true;
    if (typeof value !== "number") return;
    if (broken && last >= 0) line.fill(null, last + 1, row);
    [last, broken] = [row, false];
  });
}

/** The line from the sample before an index to the one at it, at a time at the edge of the plot; null where they are not joined. */
function between(trace: Trace, index: number, timeS: number, limitS: number): { value: number; sure: boolean } | null {
  if (index < 1 || index >= trace.length) return null;
  const [beforeS, afterS] = [trace.timeS(index - 1), trace.timeS(index)];
  if (afterS - beforeS > limitS || afterS === beforeS) return null;
  const [before, after] = [trace.gaugeMmhg(index - 1), trace.gaugeMmhg(index)];
  if (Number.isNaN(before) || Number.isNaN(after)) return null;
  const value = before + ((after - before) * (timeS - beforeS)) / (afterS - beforeS);
  const sure = !Number.isNaN(trace.uncertaintyMmhg(index - 1)) && !Number.isNaN(trace.uncertaintyMmhg(index));
  return { value, sure };
}
