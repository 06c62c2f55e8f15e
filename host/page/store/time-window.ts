/** Which stretch of the session is shown, and how it is moved. */

/** Shortest and first stretch, in seconds. */
export const LEAST_SPAN_S = 2;
const FIRST_SPAN_S = 120;

/** So near to the edge, as a share of what is shown, counts as at it. */
const CAUGHT_SHARE = 0.02;

export class TimeWindow {
  /** Null: everything there is. */
  #spanS: number | null = FIRST_SPAN_S;
  /** Right end; null while it follows. */
  #endS: number | null = null;

  /** Whether its right end moves on with the session. */
  get follows(): boolean {
    return this.#endS === null;
  }

  /** Null: everything. */
  get spanS(): number | null {
    return this.#spanS;
  }

  /** From and to in session time, where the session reaches from `firstS` to `edgeS`. */
  at(firstS: number, edgeS: number): readonly [fromS: number, toS: number] {
    const toS = this.#endS ?? edgeS;
    const wholeS = Math.max(LEAST_SPAN_S, edgeS - firstS);
    // Before its first sample a session has nothing to show.
    return [toS - Math.min(this.#spanS ?? wholeS, wholeS), toS];
  }

  /** Shows the last `spanS` seconds, or everything, and follows. */
  show(spanS: number | null): void {
    this.#spanS = spanS;
    this.#endS = null;
  }

  follow(): void {
    this.#spanS ??= FIRST_SPAN_S;
    this.#endS = null;
  }

  /** By shares of what is shown; to the left is earlier. */
  move(share: number, firstS: number, edgeS: number): void {
    const [fromS, toS] = this.at(firstS, edgeS);
    const spanS = toS - fromS;
    // Whoever goes after the edge catches it although it moved on meanwhile.
    const caughtS = share > 0 ? edgeS - CAUGHT_SHARE * spanS : edgeS;
    const nextS = toS + share * spanS;
    this.#set(spanS, nextS >= caughtS ? edgeS : nextS, firstS, edgeS);
  }

  /** Makes the stretch `factor` times as long, about a place in it: 0 its left end, 1 its right one. */
  zoom(factor: number, about: number, firstS: number, edgeS: number): void {
    const [fromS, toS] = this.at(firstS, edgeS);
    const spanS = Math.max(LEAST_SPAN_S, Math.min((toS - fromS) * factor, Math.max(LEAST_SPAN_S, edgeS - firstS)));
    const stillS = fromS + about * (toS - fromS);
    // A right end that follows stays where it is, so that zooming does not stop it.
    if (this.follows) this.#spanS = spanS;
    else this.#set(spanS, stillS + (1 - about) * spanS, firstS, edgeS);
  }

  /** A stretch that reaches the session's edge follows it from there on. */
  #set(spanS: number, toS: number, firstS: number, edgeS: number): void {
    this.#spanS = spanS;
    const least = Math.min(edgeS, firstS + spanS);
    this.#endS = toS >= edgeS ? null : Math.max(least, toS);
  }
}
