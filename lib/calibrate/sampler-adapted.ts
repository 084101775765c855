import { log } from '../numeric/elementary.js';
import { choleskyFactor, identityMatrix, rowMoments, type SquareMatrix } from './sampler-matrix.js';

/** Bounds of what chains may change the width along an axis to. */
const LEAST_WIDTH = 0.6;
const MOST_WIDTH = 3;
/** Correlations are taken by so much less where the matrix of all would not be one. */
const SHRINK = 0.8;

/** What is left of a finding with a variance: half where it is as large as twice its error, next to nothing below that. */
function sound(value: number, variance: number): number {
  const square = value * value;
  return square > 0 ? (value * square) / (square + 4 * variance) : 0;
}

/** A normal law along some axes that follows what chains have seen; the standard one along the others, and at first. */
export class AdaptedNormal {
  private readonly axes: readonly number[];
  private readonly middles: Float64Array;
  private readonly widths: Float64Array;
  /** Lower triangle that makes correlated numbers of independent ones. */
  private factor: SquareMatrix;

  /** @param axes those that may change. */
  constructor(axes: readonly number[]) {
    this.axes = axes;
    this.middles = new Float64Array(axes.length);
    this.widths = new Float64Array(axes.length).fill(1);
    this.factor = identityMatrix(axes.length);
  }

  /** Place under the law of a standard normal place. */
  place(u: Float64Array): Float64Array {
    const v = Float64Array.from(u);
    const count = this.axes.length;
    for (let a = 0; a < count; a++) {
      let sum = 0;
      for (let b = 0; b <= a; b++) sum += this.factor[a * count + b]! * u[this.axes[b]!]!;
      v[this.axes[a]!] = this.middles[a]! + this.widths[a]! * sum;
    }
    return v;
  }

  /** The inverse of `place`. */
  locate(v: Float64Array): Float64Array {
    const u = Float64Array.from(v);
    const count = this.axes.length;
    for (let a = 0; a < count; a++) {
      let sum = (v[this.axes[a]!]! - this.middles[a]!) / this.widths[a]!;
      for (let b = 0; b < a; b++) sum -= this.factor[a * count + b]! * u[this.axes[b]!]!;
      u[this.axes[a]!] = sum / this.factor[a * count + a]!;
    }
    return u;
  }

  /** Logarithm of the volume of its places per volume of standard places. */
  logScale(): number {
    const count = this.axes.length;
    return this.axes.reduce((sum, _, a) => sum + log(this.widths[a]! * this.factor[a * count + a]!), 0);
  }

  /**
   * Fits the law to places, as far as they tell more than noise.
   *
   * @param places at least two.
   * @param worth independent places that they are worth.
   */
  adapt(places: readonly Float64Array[], worth: number): void {
    const count = this.axes.length;
    const own = places.map((place) => Float64Array.from(this.axes, (k) => place[k]!));
    const { mean, covariance } = rowMoments(own, count);
    const deviations = Float64Array.from(mean, (_, a) => Math.sqrt(covariance[a * count + a]!));
    for (let a = 0; a < count; a++) {
      const variance = deviations[a]! * deviations[a]!;
      this.middles[a] = sound(mean[a]!, variance / worth);
      const width = 1 + sound(deviations[a]! - 1, variance / (2 * worth));
      this.widths[a] = Math.min(MOST_WIDTH, Math.max(LEAST_WIDTH, width));
    }
    const correlations = identityMatrix(count);
    for (let a = 0; a < count; a++) {
      for (let b = 0; b < count; b++) {
        const scale = deviations[a]! * deviations[b]!;
        if (a !== b && scale > 0)
          correlations[a * count + b] = sound(covariance[a * count + b]! / scale, 1 / worth);
      }
    }
    let factor = choleskyFactor(correlations, count);
    while (factor === null) {
      for (let a = 0; a < count; a++)
        for (let b = 0; b < count; b++) if (a !== b) correlations[a * count + b]! *= SHRINK;
      factor = choleskyFactor(correlations, count);
    }
    this.factor = factor;
  }

  /** Takes back what `adapt` did. */
  reset(): void {
    this.middles.fill(0);
    this.widths.fill(1);
    this.factor = identityMatrix(this.axes.length);
  }
}
