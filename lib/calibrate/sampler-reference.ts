import { eigenParts, timesMatrix, type SquareMatrix } from './sampler-matrix.js';
import { followedValue, followFrom, type Follower } from './sampler-follow.js';
import type { LaplaceFit, LogDensity } from './sampler-mode.js';

/** Axes narrower than this, in scores, may be bent: they are what the data tell. */
const NARROW = 0.5;
const MOST_NARROW = 8;
/** Along axes that the data narrow at all, tails may be heavier than normal; along the others the prior holds, exactly. */
const TOLD = 0.97;
const NARROW_SPREAD = 1.15;
const WIDE_SPREAD = 1.01;
/** Where the bend is measured, in standard deviations of the wider axes, and the step across. */
const BEND_AT = 1;
const ACROSS = 0.7;
/** Draws of a chain that are taken to be worth one independent draw in the warm-up. */
const DRAWS_PER_INDEPENDENT = 20;

/**
 * A law near a posterior: normal about the mode along the axes of its covariance, with the narrow axes bent as the
 * posterior is bent. Records often tell a product of numbers that are each wide open; its ridge is curved, and a straight
 * law misses it. Bending shifts a narrow axis by a square form of the wider ones, so that volumes stay as they are.
 */
export class BentReference {
  readonly mean: Float64Array;
  /** Spread to propose with along each axis: wider than the posterior seems, as a narrower law leaves tails that trap. */
  readonly spreads: Float64Array;
  /** Axes on which random walks are worth while. */
  readonly walked: readonly number[];
  /** Axes as rows, unit length. */
  private readonly axes: SquareMatrix;
  private readonly deviations: Float64Array;
  private readonly narrow: readonly number[];
  /** By narrow axis: its shift per product of two coordinates of wider axes, a lower triangle. */
  private readonly bends: Float64Array[];
  /** What the draws so far have taught: how each axis follows the ones before it. */
  private readonly followers: Follower[];

  constructor({ mean, factor }: Pick<LaplaceFit, 'mean' | 'factor'>) {
    const size = mean.length;
    this.mean = mean;
    const turned = new Float64Array(size * size);
    for (let i = 0; i < size; i++)
      for (let j = 0; j < size; j++) turned[j * size + i] = factor[i * size + j]!;
    const { values, vectors } = eigenParts(timesMatrix(factor, turned, size), size);
    this.axes = vectors;
    this.deviations = values.map((value) => Math.sqrt(Math.max(value, 1e-12)));
    const all = Array.from({ length: size }, (_, k) => k);
    // Values fall, so the narrowest axes come last.
    this.narrow = all.filter((k) => this.deviations[k]! < NARROW).slice(-MOST_NARROW);
    this.spreads = Float64Array.from(all, (k) => (this.deviations[k]! < TOLD ? NARROW_SPREAD : WIDE_SPREAD));
    this.walked = this.narrow.length > 0 ? this.narrow : all;
    this.bends = this.narrow.map(() => new Float64Array(size * size));
    this.followers = all.map(() => ({ middle: 0, spread: 1, followed: [], terms: [] }));
  }

  /** Scores of a place in the coordinates of the law. */
  place(w: Float64Array): Float64Array {
    const u = new Float64Array(w.length);
    for (let k = 0; k < w.length; k++) {
      const { spread } = this.followers[k]!;
      u[k] = followedValue(this.followers[k]!, u) + spread * w[k]!;
    }
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
    const u = this.locateStraight(z);
    return u.map((each, k) => (each - followedValue(this.followers[k]!, u)) / this.followers[k]!.spread);
  }

  /**
   * Learns middle and spread along its axes from draws, and how each narrow axis follows the ones before it: a cubic in
   * each of them, by ridge regression, as draws of a chain follow each other closely.
   *
   * @param draws scores of the posterior as far as they are known.
   */
  learn(draws: readonly Float64Array[]): void {
    const size = this.mean.length;
    const located = draws.map((z) => this.locateStraight(z));
    const worth = draws.length / DRAWS_PER_INDEPENDENT;
    for (let k = 0; k < size; k++) {
      const values = Float64Array.from(located, (u) => u[k]!);
      const place = this.narrow.indexOf(k);
      const followed = place < 0 ? [] : this.narrow.slice(0, place);
      this.followers[k] = followFrom(values, located, followed, worth);
    }
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
    const size = this.mean.length;
    const bend = this.bends[at]!;
    const k = this.narrow[at]!;
    let sum = 0;
    for (let i = 0; i < k; i++) {
      let row = 0;
      for (let j = 0; j <= i; j++) row += bend[i * size + j]! * u[j]!;
      sum += row * u[i]!;
    }
    return sum;
  }

  /**
   * Measures how the narrow axes bend: at points out along the wider ones, singly and in pairs, how far off the ridge is.
   *
   * @param breath called between points, to let others work and to hear of a stop.
   */
  async bend(density: LogDensity, breath: () => Promise<void>): Promise<void> {
    const { narrow } = this;
    const size = this.mean.length;
    if (narrow.length === 0) return;
    // Of a lopsided density the summit seems off even where it is not: that much is taken away everywhere.
    const atMode = this.ridgeOff(density, new Float64Array(size), 0);
    const ridge = async (i: number, sign: number, j: number | null): Promise<Float64Array> => {
      const u = new Float64Array(size);
      u[i] = sign * BEND_AT;
      if (j !== null) u[j] = BEND_AT;
      await breath();
      return this.ridgeOff(density, u, Math.max(i, j ?? 0) + 1).map((off, at) => off - atMode[at]!);
    };
    const found = this.bends.map((bend) => Float64Array.from(bend));
    const up: Float64Array[] = [];
    for (let i = 0; i < narrow.at(-1)!; i++) {
      up.push(await ridge(i, 1, null));
      const down = await ridge(i, -1, null);
      found.forEach((bend, at) => {
        if (narrow[at]! > i) bend[i * size + i] = (0.5 * (up[i]![at]! + down[at]!)) / (BEND_AT * BEND_AT);
      });
      for (let j = 0; j < i; j++) {
        const both = await ridge(i, 1, j);
        found.forEach((bend, at) => {
          if (narrow[at]! <= i) return;
          bend[i * size + j] = (both[at]! - up[i]![at]! - up[j]![at]!) / (BEND_AT * BEND_AT);
        });
      }
    }
    found.forEach((bend, at) => {
      this.bends[at]!.set(bend);
    });
  }

  /** How far the summit across each narrow axis from `first` on is from a point: one step of Newton's method. */
  private ridgeOff(density: LogDensity, u: Float64Array, first: number): Float64Array {
    const middle = density(this.placeStraight(u));
    return Float64Array.from(this.narrow, (k) => {
      if (k < first) return 0;
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
