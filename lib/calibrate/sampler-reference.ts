import { eigenParts, timesMatrix, type SquareMatrix } from './sampler-matrix.js';
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

/** How far a ridge is followed, in deviations, in which steps, and until the density has fallen by how much. */
const FURTHEST = 8;
const TRACE_STEP = 1;
const DEEPEST_FALL = 5;
const SWEEPS = 2;

/** A ridge along one axis: offsets of the narrow axes at some points, straight between them and flat beyond. */
interface Ridge {
  readonly at: readonly number[];
  readonly offsets: readonly Float64Array[];
}

function ridgeAt({ at, offsets }: Ridge, t: number, axis: number): number {
  const last = at.length - 1;
  if (t <= at[0]!) return offsets[0]![axis]!;
  if (t >= at[last]!) return offsets[last]![axis]!;
  let k = 1;
  while (at[k]! < t) k++;
  const share = (t - at[k - 1]!) / (at[k]! - at[k - 1]!);
  return (1 - share) * offsets[k - 1]![axis]! + share * offsets[k]![axis]!;
}

/** How far out on one side the density has fallen by 2, as at two deviations of a normal law. */
function reachOf(points: readonly { readonly t: number; readonly fall: number }[], sign: number): number {
  const side = points
    .filter(({ t }) => sign * t >= 0)
    .sort((one, other) => Math.abs(one.t) - Math.abs(other.t));
  for (let k = 1; k < side.length; k++) {
    if (side[k]!.fall < 2) continue;
    // Roots of falls are straight along a normal law.
    const [low, high] = [Math.sqrt(Math.max(0, side[k - 1]!.fall)), Math.sqrt(side[k]!.fall)];
    const share = (Math.SQRT2 - low) / (high - low);
    return Math.abs(side[k - 1]!.t) + share * Math.abs(side[k]!.t - side[k - 1]!.t);
  }
  const end = side.at(-1)!;
  return Math.max(2, Math.abs(end.t));
}

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
  /** By narrow axis: its middle and its spread in deviations, as the profile of the density along it tells. */
  private readonly middles: Float64Array;
  private readonly stretches: Float64Array;
  /** By narrow axis: the ridge that the narrower ones follow along it. */
  private readonly ridges: Ridge[];
  /** By narrow axis: its shift per product of two coordinates of wider axes, a lower triangle. */
  private readonly bends: Float64Array[];
  private readonly pending: { ridge: Ridge; middle: number; stretch: number }[] = [];

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
    this.middles = new Float64Array(this.narrow.length);
    this.stretches = new Float64Array(this.narrow.length).fill(1);
    this.ridges = this.narrow.map(() => ({ at: [0], offsets: [new Float64Array(this.narrow.length)] }));
  }

  /** Scores of a place in the coordinates of the law. */
  place(u: Float64Array): Float64Array {
    const size = this.mean.length;
    const z = Float64Array.from(this.mean);
    const along = new Float64Array(this.narrow.length);
    for (let k = 0; k < size; k++) {
      const at = this.narrow.indexOf(k);
      let value = u[k]!;
      if (at >= 0) {
        along[at] =
          this.middles[at]! + this.stretches[at]! * value + this.shift(at, u) + this.follow(at, along);
        value = along[at]!;
      }
      const scaled = value * this.deviations[k]!;
      for (let i = 0; i < size; i++) z[i]! += scaled * this.axes[k * size + i]!;
    }
    return z;
  }

  /** Coordinates of some scores: the inverse of `place`. */
  locate(z: Float64Array): Float64Array {
    const size = this.mean.length;
    const u = new Float64Array(size);
    for (let k = 0; k < size; k++) {
      let along = 0;
      for (let i = 0; i < size; i++) along += this.axes[k * size + i]! * (z[i]! - this.mean[i]!);
      u[k] = along / this.deviations[k]!;
    }
    const along = Float64Array.from(this.narrow, (k) => u[k]!);
    this.narrow.forEach((k, at) => {
      const rest = along[at]! - this.middles[at]! - this.shift(at, u) - this.follow(at, along);
      u[k] = rest / this.stretches[at]!;
    });
    return u;
  }

  /** Where the ridges along the narrow axes before it put a narrow axis. */
  private follow(at: number, along: Float64Array): number {
    let sum = 0;
    for (let before = 0; before < at; before++) sum += ridgeAt(this.ridges[before]!, along[before]!, at);
    return sum;
  }

  /**
   * Follows the ridge of the density out along each narrow axis: where the narrower ones go, and how far the axis reaches
   * before the density has fallen as a normal law would at two deviations.
   *
   * @param breath called between points, to let others work and to hear of a stop.
   */
  async trace(density: LogDensity, breath: () => Promise<void>): Promise<void> {
    const count = this.narrow.length;
    const size = this.mean.length;
    const top = density(this.mean);
    for (let at = 0; at < count; at++) {
      const points: { t: number; offsets: Float64Array; fall: number }[] = [
        { t: 0, offsets: new Float64Array(count), fall: 0 },
      ];
      for (const sign of [-1, 1]) {
        let offsets = new Float64Array(count);
        for (let n = 1; n <= FURTHEST / TRACE_STEP; n++) {
          const u = new Float64Array(size);
          u[this.narrow[at]!] = sign * n * TRACE_STEP;
          for (let sweep = 0; sweep < SWEEPS; sweep++) {
            for (let m = at + 1; m < count; m++) u[this.narrow[m]!] = offsets[m]!;
            await breath();
            const off = this.ridgeOff(density, u, this.narrow[at]! + 1);
            offsets = offsets.map((each, m) => (m > at ? each + off[m]! : 0));
          }
          for (let m = at + 1; m < count; m++) u[this.narrow[m]!] = offsets[m]!;
          const fall = top - density(this.place(u));
          points.push({ t: sign * n * TRACE_STEP, offsets, fall });
          if (!(fall < DEEPEST_FALL)) break;
        }
      }
      points.sort((one, other) => one.t - other.t);
      const found = points.filter(({ fall }) => Number.isFinite(fall));
      const [left, right] = [reachOf(found, -1), reachOf(found, 1)];
      this.pending.push({
        ridge: { at: found.map(({ t }) => t), offsets: found.map(({ offsets }) => offsets) },
        middle: 0.5 * (right - left),
        stretch: (0.5 * (left + right)) / 2,
      });
    }
    // Each was followed with the axes straight: all are bent together only now.
    this.pending.splice(0).forEach(({ ridge, middle, stretch }, at) => {
      this.ridges[at] = ridge;
      this.middles[at] = middle;
      this.stretches[at] = Math.max(0.2, stretch);
    });
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
    const middle = density(this.place(u));
    return Float64Array.from(this.narrow, (k) => {
      if (k < first) return 0;
      const moved = Float64Array.from(u);
      moved[k] = u[k]! + ACROSS;
      const up = density(this.place(moved));
      moved[k] = u[k]! - ACROSS;
      const down = density(this.place(moved));
      const slope = (up - down) / (2 * ACROSS);
      const curvature = (2 * middle - up - down) / (ACROSS * ACROSS);
      const off = slope / Math.max(curvature, 0.3);
      return Number.isFinite(off) ? Math.min(3, Math.max(-3, off)) : 0;
    });
  }
}
