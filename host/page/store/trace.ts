/** Samples of one site over time, in typed arrays of bounded size. */

/** Samples kept of a site: 27 minutes at 20 a second, over two hours at four. */
export const TRACE_LIMIT = 32_768;

const FIRST_CAPACITY = 1024;

export interface Sample {
  readonly timeS: number;
  /** Null: a sample that gave no gauge pressure. */
  readonly gaugeMmhg: number | null;
  /** Expanded (k = 2); null when not known. */
  readonly uncertaintyMmhg: number | null;
}

/** A ring of samples in order of time; the oldest give way. Index 0 is the oldest one kept. */
export class Trace {
  readonly #limit: number;
  #capacity: number;
  #times: Float64Array;
  #gauges: Float32Array;
  #uncertainties: Float32Array;
  #start = 0;
  #length = 0;
  #leftOut = 0;

  constructor(limit = TRACE_LIMIT) {
    this.#limit = limit;
    this.#capacity = Math.min(FIRST_CAPACITY, limit);
    this.#times = new Float64Array(this.#capacity);
    this.#gauges = new Float32Array(this.#capacity);
    this.#uncertainties = new Float32Array(this.#capacity);
  }

  get length(): number {
    return this.#length;
  }

  /** Samples that gave way. */
  get leftOut(): number {
    return this.#leftOut;
  }

  /** False for a sample earlier than the newest one: it is not taken. */
  push(timeS: number, gaugeMmhg: number | null, uncertaintyMmhg: number | null): boolean {
    if (this.#length > 0 && timeS < this.timeS(this.#length - 1)) return false;
    if (this.#length === this.#capacity) this.#makeRoom();
    const place = (this.#start + this.#length) % this.#capacity;
    this.#times[place] = timeS;
    this.#gauges[place] = gaugeMmhg ?? Number.NaN;
    this.#uncertainties[place] = uncertaintyMmhg ?? Number.NaN;
    this.#length++;
    return true;
  }

  timeS(index: number): number {
    return this.#times[(this.#start + index) % this.#capacity]!;
  }

  /** NaN where there is none: for drawing, which must not make an object a sample. */
  gaugeMmhg(index: number): number {
    return this.#gauges[(this.#start + index) % this.#capacity]!;
  }

  /** NaN where it is not known. */
  uncertaintyMmhg(index: number): number {
    return this.#uncertainties[(this.#start + index) % this.#capacity]!;
  }

  sample(index: number): Sample {
    const [gauge, uncertainty] = [this.gaugeMmhg(index), this.uncertaintyMmhg(index)];
    return {
      timeS: this.timeS(index),
      gaugeMmhg: Number.isNaN(gauge) ? null : gauge,
      uncertaintyMmhg: Number.isNaN(uncertainty) ? null : uncertainty,
    };
  }

  /** Index of the first sample at or after a time; the length when there is none. */
  indexAt(timeS: number): number {
    let [low, high] = [0, this.#length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.timeS(middle) < timeS) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** Drops the samples at or after a time. */
  cutFrom(timeS: number): void {
    this.#length = this.indexAt(timeS);
  }

  #makeRoom(): void {
    if (this.#capacity === this.#limit) {
      this.#start = (this.#start + 1) % this.#capacity;
      this.#length--;
      this.#leftOut++;
      return;
    }
    const capacity = Math.min(this.#capacity * 2, this.#limit);
    const [times, gauges, uncertainties] = [
      new Float64Array(capacity),
      new Float32Array(capacity),
      new Float32Array(capacity),
    ];
    for (let i = 0; i < this.#length; i++) {
      times[i] = this.timeS(i);
      gauges[i] = this.gaugeMmhg(i);
      uncertainties[i] = this.uncertaintyMmhg(i);
    }
    [this.#times, this.#gauges, this.#uncertainties] = [times, gauges, uncertainties];
    this.#capacity = capacity;
    this.#start = 0;
  }
}
