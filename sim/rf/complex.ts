/** Complex numbers, as far as impedances and reflections need them. */
export interface Complex {
  readonly re: number;
  readonly im: number;
}

export function add(...terms: readonly Complex[]): Complex {
  let re = 0;
  let im = 0;
  for (const term of terms) {
    re += term.re;
    im += term.im;
  }
  return { re, im };
}

export function multiply(a: Complex, b: Complex): Complex {
  return { re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re };
}

/** Not finite when `b` is 0. */
export function divide(a: Complex, b: Complex): Complex {
  const square = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square };
}

export function magnitude({ re, im }: Complex): number {
  return Math.hypot(re, im);
}

/** 1 / (1/a + 1/b): two impedances side by side. */
export function beside(a: Complex, b: Complex): Complex {
  return divide(multiply(a, b), add(a, b));
}
