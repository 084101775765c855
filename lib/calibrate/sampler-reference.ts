import {
  choleskyFactor,
  eigenParts,
  identityMatrix,
  rowMoments,
  timesMatrix,
  timesVector,
  type SquareMatrix } from './sampler-matrix.js';
import type { LaplaceFit, LogDensity } from './sampler-mode.js';

/** Directions narrower than this, in scores, are bent along with the others: they are what the data tell. */
const NARROW = 0.6;
const MOST_NARROW = 8;
/** Where the bend is measured, in standard deviations of the wide directions, and the step across. */
const BEND_AT = 1;
const ACROSS = 0.7;
/** Draws of a chain that are taken to be worth one independent draw in the warm-up. */
const DRAWS_PER_INDEPENDENT = 20;

/**
 * A law near a posterior: normal about the mode along the axes of its covariance, with the narrow axes bent as the
 * posterior is bent. Records often tell a product of numbers that are each wide open; its ridge is curved, and a straight
 * law misses it. Bending shifts narrow axes by a square form of the wide ones, so that volumes stay as they are.
 */
export class BentReference {
  readonly mean: Float64Array;
  /** Axes as rows, unit length. */
  private readonly axes: SquareMatrix;
  private readonly deviations: Float64Array;
  private readonly narrow: readonly number[];
  private readonly wide: readonly number[];
  /** By narrow axis: its shift per product of two wide coordinates, wide × wide. */
  private readonly bends: Float64Array[];
  /** What the draws so far have taught: u = middle + stretch w, the stretch triangular. */
  private readonly middle: Float64Array;
  private readonly stretch: SquareMatrix;

  constructor({ mean, factor }: Pick<LaplaceFit, 'mean' | 'factor'>) {
    const size = mean.length;
    this.mean = mean;
    const turned = new Float64Array(size * size);
    for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) turned[j * size + i] = factor[i * size + j]!;
    const { values, vectors } = eigenParts(timesMatrix(factor, turned, size), size);
    this.axes = vectors;
    this.deviations = values.map((value) => Math.sqrt(Math.max(value, 1e-12)));
    const all = Array.from({ length: size }, (_, k) => k);
    // Values fall, so the narrowest axes come last.
    this.narrow = all.filter((k) => this.deviations[k]! < NARROW).slice(-MOST_NARROW);
    this.wide = all.filter((k) => !this.narrow.includes(k));
    this.bends = this.narrow.map(() => new Float64Array(this.wide.length * this.wide.length));
    this.middle = new Float64Array(size);
    this.stretch = identityMatrix(size);
  }

  /** Scores of a place in the coordinates of the law. */
  place(w: Float64Array): Float64Array {
    const u = timesVector(this.stretch, w);
    for (let k = 0; k < u.length; k++) u[k]! += this.middle[k]!;
    return this.placeStraight(u);
  }

  private placeStraight(u: Float64Array): Float64Array {
    const size = this.mean.length;
    const z = Float64Array.from(this.mean);
    for (let k = 0; k < size; k++) {
      const at = this.narrow.indexOf(k);
      const along = (u[k]! + (at < 0 ? 0 : this.shift(at, u))) * this.deviations[k]!;
      for (let i = 0; i < size; i++) z[i]! += along * this.axes[k * size + i]!;
    }
    return z;
  }

  /** Coordinates of some scores: the inverse of `place`. */
  locate(z: Float64Array): Float64Array {
    const w = this.locateStraight(z);
    const size = w.length;
    for (let k = 0; k < size; k++) {
      let rest = w[k]! - this.middle[k]!;
      for (let j = 0; j < k; j++) rest -= this.stretch[k * size + j]! * w[j]!;
      w[k] = rest / this.stretch[k * size + k]!;
    }
    return w;
  }

  /**
   * Learns middle and spread along its axes from draws: of the narrow axes with their correlations, of the wide ones each
   * for itself, as few draws do not tell more.
   *
   * @param draws scores of the posterior as far as they are known; they follow each other closely.
   */
  learn(draws: readonly Float64Array[]): void {
    const size = this.mean.length;
    const located = draws.map((z) => this.locateStraight(z));
    const { mean, covariance } = rowMoments(located, size);
    const worth = draws.length / DRAWS_PER_INDEPENDENT;
    const trust = worth / (worth + this.narrow.length + 1);
    const mixed = new Float64Array(size * size);
    for (let i = 0; i < size; i++) {
      this.middle[i] = trust * mean[i]!;
      for (let j = 0; j < size; j++) {
        const told = i === j || (this.narrow.includes(i) && this.narrow.includes(j)) ? covariance[i * size + j]! : 0;
        mixed[i * size + j] = trust * told + (i === j ? 1 - trust : 0);
      }
    }
    this.stretch.set(choleskyFactor(mixed, size) ?? identityMatrix(size));
  }

  private locateStraight(z: Float64Array): Float64Array {
    const size = this.mean.length;
    const u = new Float64Array(size);
    for (let k = 0; k < size; k++) {
      let along = 0;
      for (let i = 0; i < size; i++) along += this.axes[k * size + i]! * (z[i]! - this.mean[i]!);
      u[k] = along / this.deviations[k]!;
    }
    this.narrow.forEach((k, at) => (u[k]! -= this.shift(at, u)));
    return u;
  }

  private shift(at: number, u: Float64Array): number {
    const { wide } = this;
    const bend = this.bends[at]!;
    let sum = 0;
    for (let i = 0; i < wide.length; i++) {
      let row = 0;
      for (let j = 0; j < wide.length; j++) row += bend[i * wide.length + j]! * u[wide[j]!]!;
      sum += row * u[wide[i]!]!;
    }
    return sum;
  }

  /**
   * Measures how the narrow axes bend: at points out along the wide ones, singly and in pairs, how far off the ridge is.
   *
   * @param breath called between points, to let others work and to hear of a stop.
   */
  async bend(density: LogDensity, breath: () => Promise<void>): Promise<void> {
    const { wide, narrow } = this;
    const size = this.mean.length;
    if (narrow.length === 0 || wide.length === 0) return;
    // Of a lopsided density the summit seems off even where it is not: that much is taken away everywhere.
    const atMode = this.ridgeOff(density, new Float64Array(size));
    const ridge = async (first: number, sign: number, second: number | null): Promise<Float64Array> => {
      const u = new Float64Array(size);
      u[wide[first]!] = sign * BEND_AT;
      if (second !== null) u[wide[second]!] = BEND_AT;
      await breath();
      return this.ridgeOff(density, u).map((off, at) => off - atMode[at]!);
    };
    const single = wide.map(() => new Float64Array(narrow.length));
    const plus: Float64Array[] = [];
    for (let i = 0; i < wide.length; i++) {
      const up = await ridge(i, 1, null);
      const down = await ridge(i, -1, null);
      plus.push(up);
      narrow.forEach((_, at) => (single[i]![at] = 0.5 * (up[at]! + down[at]!)));
    }
    const found = this.bends.map((bend) => Float64Array.from(bend));
    for (let i = 0; i < wide.length; i++) {
      for (let at = 0; at < narrow.length; at++) {
        found[at]![i * wide.length + i] = single[i]![at]! / (BEND_AT * BEND_AT);
      }
      for (let j = 0; j < i; j++) {
        const both = await ridge(i, 1, j);
        for (let at = 0; at < narrow.length; at++) {
          const mixed = both[at]! - plus[i]![at]! - plus[j]![at]!;
          found[at]![i * wide.length + j] = found[at]![j * wide.length + i] = mixed / (2 * BEND_AT * BEND_AT);
        }
      }
    }
    found.forEach((bend, at) => {
      this.bends[at]!.set(bend);
    });
  }

  /** How far the summit across each narrow axis is from a point, in standard deviations: one step of Newton's method. */
  private ridgeOff(density: LogDensity, u: Float64Array): Float64Array {
    const middle = density(this.placeStraight(u));
    return Float64Array.from(this.narrow, (k) => {
      const moved = Float64Array.from(u);
      moved[k] = u[k]! + ACROSS;
      const up = density(this.placeStraight(moved));
      moved[k] = u[k]! - ACROSS;
      const down = density(this.placeStraight(moved));
      const slope = (up - down) / (2 * ACROSS);
      const curvature = (2 * middle - up - down) / (ACROSS * ACROSS);
      const off = slope / Math.max(curvature, 0.3);
      return Number.isFinite(off) ? Math.min(3, Math.max(-3, off)) : 0;
    });
  }
}
