/** The part of odex that is used. The package ships its own source beside its program, which is not written for our settings. */
export class Solver {
  constructor(dimension: number);
  absoluteTolerance: number;
  relativeTolerance: number;
  maxStepSize: number;
  solve(
    derivative: (x: number, y: readonly number[]) => number[],
    from: number,
    start: readonly number[],
    to: number,
  ): { readonly y: number[] };
}
