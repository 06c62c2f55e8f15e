/** Distribution functions that judging a fit takes: F and t, through the incomplete beta function. */

/** Probability that an F-distributed value is larger. */
export function fTail(value: number, [dof1, dof2]: readonly [number, number]): number {
  if (!(value > 0)) return 1;
  return incompleteBeta(dof2 / (dof2 + dof1 * value), dof2 / 2, dof1 / 2);
}

/** Half width that covers `share` of a t distribution; of the normal one for infinite degrees of freedom. */
export function coverageFactor(share: number, degreesOfFreedom: number): number {
  const outside = (t: number) => {
    if (!Number.isFinite(degreesOfFreedom)) return twoSidedNormalTail(t);
    return incompleteBeta(degreesOfFreedom / (degreesOfFreedom + t * t), degreesOfFreedom / 2, 0.5);
  };
  let [low, high] = [0, 1];
  while (outside(high) > 1 - share && high < 1e12) high *= 2;
  for (let i = 0; i < 200 && high - low > 1e-14 * high; i++) {
    const middle = (low + high) / 2;
    if (outside(middle) > 1 - share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Effective degrees of freedom of a combined standard uncertainty: Welch-Satterthwaite, GUM G.4.1. */
export function effectiveDegreesOfFreedom(
  contributions: readonly { readonly standardUncertainty: number; readonly degreesOfFreedom: number }[],
): number {
  const variance = contributions.reduce((total, { standardUncertainty: u }) => total + u * u, 0);
  const rest = contributions.reduce(
    (total, { standardUncertainty: u, degreesOfFreedom }) =>
      Number.isFinite(degreesOfFreedom) ? total + u ** 4 / degreesOfFreedom : total,
    0,
  );
  return rest === 0 ? Number.POSITIVE_INFINITY : variance ** 2 / rest;
}

/** erfc(t/√2) = 1 − P(1/2, t²/2) by series and, where that loses digits, by continued fraction. */
function twoSidedNormalTail(t: number): number {
  const x = (t * t) / 2;
  const front = Math.exp(-x) * Math.sqrt(x / Math.PI);
  if (x < 2) {
    let term = 2;
    let total = 2;
    for (let n = 1; term > 1e-17 * total; n++) total += term *= x / (n + 0.5);
    return 1 - front * total;
  }
  let fraction = 0;
  for (let n = 200; n >= 1; n--) fraction = (n * (n - 0.5)) / (x + 2 * n + 0.5 - fraction);
  return front / (x + 0.5 - fraction);
}

/** Regularised incomplete beta function I_x(a, b), by Lentz's continued fraction. */
function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  if (x > (a + 1) / (a + b + 2)) return 1 - incompleteBeta(1 - x, b, a);
  const front = Math.exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * Math.log(x) + b * Math.log1p(-x)) / a;
  const tiny = 1e-300;
  const kept = (value: number) => (Math.abs(value) < tiny ? tiny : value);
  let c = 1;
  let d = 1 / kept(1 - ((a + b) * x) / (a + 1));
  let fraction = d;
  for (let m = 1; m < 10_000; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / kept(1 + even * d);
    c = kept(1 + even / c);
    fraction *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / kept(1 + odd * d);
    c = kept(1 + odd / c);
    fraction *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  return front * fraction;
}

/** ln Γ(x) for x > 0: Stirling's series beyond 15, by recurrence below. */
function logGamma(x: number): number {
  let shift = 0;
  let z = x;
  while (z < 15) shift += Math.log(z++);
  const s = 1 / (z * z);
  const series = (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188))))) / z;
  return (z - 0.5) * Math.log(z) - z + Math.log(2 * Math.PI) / 2 + series - shift;
}
