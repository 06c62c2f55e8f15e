/**
 * A stretch of time in which nothing switches: a capacitor with series resistance, fed with constant power and drained by
 * a constant current and a resistance, all at one node.
 *
 *   C·dVc/dt = i,  i = P/V − I − G·V,  V = Vc + R·i
 *
 * With V the voltage of the node the stretch has a time in closed form from any voltage to any other:
 *
 *   dt = C·[ ((1 + 2RG)·V + R·I)/(P − I·V − G·V²) + R/V ]·dV
 *
 * With R = I = G = 0 that is V² linear in time, with R = P = G = 0 V linear in time, with R = P = I = 0 the exponential.
 */
export interface Stretch {
  /** Power into the node in watt, 0 or more. */
  readonly powerW: number;
  /** Current out of the node in ampere, 0 or more. */
  readonly currentA: number;
  /** Leakage in siemens, 0 or more. */
  readonly leakageS: number;
  /** Incremental capacitance in farad, above 0. */
  readonly capacitanceF: number;
  /** Series resistance of the capacitor in ohm, 0 or more. */
  readonly esrOhm: number;
}

/** Voltage of the node for a voltage inside the capacitor: the latter never jumps, the node does when a load switches. */
export function nodeOf({ powerW, currentA, leakageS, esrOhm }: Stretch, insideV: number): number {
  if (esrOhm === 0) return insideV;
  const open = insideV - esrOhm * currentA;
  const scale = 1 + esrOhm * leakageS;
  const root = Math.sqrt(open * open + 4 * scale * esrOhm * powerW);
  // Of the two forms of the same root the one that adds, so that no digits are lost.
  return open >= 0 ? (open + root) / (2 * scale) : (2 * esrOhm * powerW) / (root - open);
}

/** Voltage inside the capacitor for a voltage of the node. */
export function insideOf(stretch: Stretch, nodeV: number): number {
  return stretch.esrOhm === 0 ? nodeV : nodeV - stretch.esrOhm * chargingA(stretch, nodeV);
}

/** Current into the capacitor at a voltage of the node; at 0 V with power it is infinite. */
export function chargingA({ powerW, currentA, leakageS }: Stretch, nodeV: number): number {
  return (powerW === 0 ? 0 : powerW / nodeV) - currentA - leakageS * nodeV;
}

/** Voltage at which what comes in goes out: Infinity when nothing drains, 0 when nothing feeds. */
export function equilibriumV({ powerW, currentA, leakageS }: Stretch): number {
  if (powerW === 0) return 0;
  const root = Math.sqrt(currentA * currentA + 4 * leakageS * powerW);
  return (2 * powerW) / (currentA + root);
}

/** Logarithm of 1 + x, over x: 1 at 0. */
function logOver(x: number): number {
  return x === 0 ? 1 : Math.log1p(x) / x;
}

/**
 * Time in seconds in which the node goes from one voltage to another; Infinity when it never gets there, because it stands
 * still, goes the other way, or comes to rest before.
 */
export function timeTo(stretch: Stretch, fromV: number, toV: number): number {
  const step = toV - fromV;
  if (step === 0) return 0;
  const { powerW: p, currentA: i, leakageS: g, capacitanceF: c, esrOhm: r } = stretch;
  if (p === 0) {
    if (step > 0 || (i === 0 && (g === 0 || toV === 0))) return Number.POSITIVE_INFINITY;
    const last = i + g * toV;
    return c * (1 + r * g) * (-step / last) * logOver((-g * step) / last);
  }
  const restV = equilibriumV(stretch);
  if (step > 0 ? toV >= restV : toV <= restV) return Number.POSITIVE_INFINITY;
  const series = r === 0 ? 0 : r * Math.log(toV / fromV);
  if (i === 0) {
    const squares = step * (fromV + toV);
    const last = p - g * toV * toV;
    return c * (((1 + 2 * r * g) / 2) * (squares / last) * logOver((g * squares) / last) + series);
  }
  const root = Math.sqrt(i * i + 4 * g * p);
  const falling = (2 * g) / (i + root);
  const near = (step / (restV - toV)) * logOver(step / (restV - toV));
  const below = 1 + falling * fromV;
  const far = (step / below) * logOver((falling * step) / below);
  const voltageIntegral = (restV * near - far) / root;
  const integral = (near + falling * far) / root;
  return c * ((1 + 2 * r * g) * voltageIntegral + r * i * integral + series);
}

/** How long the node takes for a small step, per volt: the derivative of `timeTo`. */
function secondsPerVolt(
  { powerW: p, currentA: i, leakageS: g, capacitanceF: c, esrOhm: r }: Stretch,
  v: number,
): number {
  return c * (((1 + 2 * r * g) * v + r * i) / (p - i * v - g * v * v) + r / v);
}

/** Voltage of the node after `seconds`; it never goes below 0. */
export function voltageAfter(stretch: Stretch, fromV: number, seconds: number): number {
  const { powerW: p, currentA: i, leakageS: g, capacitanceF: c, esrOhm: r } = stretch;
  if (seconds === 0) return fromV;
  if (p === 0) {
    const rate = (g * seconds) / (c * (1 + r * g));
    const lost = rate === 0 ? (i * seconds) / c : -(fromV + i / g) * Math.expm1(-rate);
    return Math.max(0, fromV - lost);
  }
  const restV = equilibriumV(stretch);
  if (fromV === restV) return fromV;
  if (i === 0 && r === 0) {
    const rate = (2 * g * seconds) / c;
    const square = fromV * fromV;
    return Math.sqrt(square + (rate === 0 ? (2 * p * seconds) / c : (square - p / g) * Math.expm1(-rate)));
  }
  return Number.isFinite(restV) ? towardsRest(stretch, fromV, restV, seconds) : withoutDrain(stretch, fromV, seconds);
}

const STEPS = 60;
/** A step of this share is the last one: what it leaves is of the order of its square. */
const LAST_STEP = 1e-8;

/**
 * Newton's steps over y with V = rest − (rest − from)·e^−y: the time is close to linear in y both far from rest and near it,
 * so that one or two steps do.
 */
function towardsRest(stretch: Stretch, fromV: number, restV: number, seconds: number): number {
  const gap = restV - fromV;
  let low = 0;
  let high = Number.POSITIVE_INFINITY;
  let y = firstGuess(stretch, fromV, gap, seconds);
  for (let step = 0; step < STEPS; step++) {
    const v = fromV - gap * Math.expm1(-y);
    const late = timeTo(stretch, fromV, v) - seconds;
    if (!Number.isFinite(late)) {
      // So near to rest that the digits end.
      if (restV - v === 0 || y > 36) return restV;
      high = y;
      y = (low + y) / 2;
      continue;
    }
    if (late > 0) high = Math.min(high, y);
    else low = Math.max(low, y);
    const change = late / (secondsPerVolt(stretch, v) * (restV - v));
    const next = y - change;
    if (Math.abs(change) <= LAST_STEP * y) return fromV - gap * Math.expm1(-next);
    y = next > low && next < high ? next : Number.isFinite(high) ? (low + high) / 2 : 2 * y;
  }
  return fromV - gap * Math.expm1(-y);
}

/** V² carried on in a straight line, as far as it stays on this side of rest. */
function firstGuess(stretch: Stretch, fromV: number, gap: number, seconds: number): number {
  const { powerW, capacitanceF } = stretch;
  const slope = fromV === 0 ? powerW / capacitanceF : fromV / secondsPerVolt(stretch, fromV);
  const share = (Math.sqrt(Math.max(0, fromV * fromV + 2 * slope * seconds)) - fromV) / gap;
  return share < 0.9 ? -Math.log1p(-share) : 2.3;
}

/** The same over V², when nothing drains and only the series resistance bends the line. */
function withoutDrain(stretch: Stretch, fromV: number, seconds: number): number {
  const { powerW, capacitanceF } = stretch;
  let square = fromV * fromV + (2 * powerW * seconds) / capacitanceF;
  for (let step = 0; step < STEPS; step++) {
    const v = Math.sqrt(square);
    const change = ((timeTo(stretch, fromV, v) - seconds) * 2 * v) / secondsPerVolt(stretch, v);
    // The line bends one way, so that a step never overshoots by more than it lacked.
    square = Math.max(square - change, fromV * fromV);
    if (Math.abs(change) <= LAST_STEP * square) break;
  }
  return Math.sqrt(square);
}
