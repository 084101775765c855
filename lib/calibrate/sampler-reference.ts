import { Figures } from './likelihood-figures.js';
import { log } from '../numeric/elementary.js';
import { AdaptedNormal } from './sampler-adapted.js';
import { eigenParts, timesMatrix, type SquareMatrix } from './sampler-matrix.js';
import type { Breath, LaplaceFit, LogDensity } from './sampler-mode.js';

/** Axes narrower than this, in scores, are what the data tell well: random walks are made along them. */
const NARROW = 0.5;
/** Along axes narrower than this the law is fitted to the posterior; along the others the prior holds, nearly exactly. */
const TOLD = 0.97;
/** Proposals are that much wider than the posterior seems, as a narrower law leaves tails that trap. */
const TOLD_SPREAD = 1.1;
const UNTOLD_SPREAD = 1.01;
/** Where the bend by two axes is measured, in standard deviations. */
const BEND_AT = 1;
/**
 * Axes are followed so many deviations out at most, in these steps, each looked at so often, until the density has fallen
 * by so much.
 */
const FURTHEST = 16;
/** Shifts at a point of a ridge go no further, in deviations; pairs that shift by less than the other are not tried out. */
const MOST_SHIFT = 6;
const SMALL_SHIFT = 0.05;
const RIDGE_STEP = 1;
const SWEEPS = 2;
const DEEPEST_FALL = 4.5;
/** No fall counts for less: a plateau would want a law without end. */
const LEAST_FALL = 0.2;
/** An untold axis on which the density falls as the prior does, to so much, is followed no further. */
const AS_PRIOR = 0.02;
/** Least reach to two deviations of a normal law that is believed. */
const LEAST_REACH = 1.6;
const MOST_SKEW = 0.8;
/** Stretch or skew from which on an axis is no longer taken as normal. */
const SHAPED = 0.15;

/** A ridge along one axis, followed from so many steps on the left of the mode to so many on the right. */
interface Ridge {
  /** Steps to the left of the mode. */
  readonly left: number;
  /** Shifts of all axes at each step from the far left on. */
  readonly shifts: readonly Float64Array[];
}

/** Shift of an axis where a ridge has come to a place: straight between its points, and on as it was beyond them. */
function ridgeOffset({ left, shifts }: Ridge, t: number, axis: number): number {
  const from = Math.max(0, Math.min(shifts.length - 2, left + Math.floor(t / RIDGE_STEP)));
  const [one, other] = [shifts[from]![axis]!, shifts[from + 1]![axis]!];
  return one + (t / RIDGE_STEP + left - from) * (other - one);
}

/** A point of a ridge: how far along its axis, and how far the density has fallen. */
interface RidgePoint {
  readonly t: number;
  readonly fall: number;
  readonly shifts: Float64Array;
}

/**
 * Where two deviations of a normal law must lie on one side so that it nowhere falls faster than the density does: a
 * shelf far out counts, as chains would be trapped there.
 */
function reachOf(side: readonly RidgePoint[]): number {
  const reaches = side.map(
    ({ t, fall }) => (Math.SQRT2 * Math.abs(t)) / Math.sqrt(Math.max(LEAST_FALL, fall)),
  );
  return Math.max(LEAST_REACH, ...reaches);
}

/**
 * A law near a posterior: normal about the mode along the axes of its covariance, with the axes that the data tell bent as
 * the posterior is bent. Records often tell a product of numbers that are each wide open; its ridge is curved, and a
 * straight law misses it. Bending shifts an axis by a square form of the wider ones, so that volumes stay as they are.
 */
export class BentReference {
  readonly mean: Float64Array;
  /** Spread to propose with along each axis. */
  readonly spreads: Float64Array;
  /** Axes on which random walks are worth while. */
  readonly walked: readonly number[];
  /** Axes along which the posterior is wider than a normal law or skew, as far as `bend` has found; else those told. */
  shaped: readonly number[];
  /** Axes as rows, unit length, the widest first. */
  private readonly axes: SquareMatrix;
  private readonly deviations: Float64Array;
  private readonly told: readonly number[];
  /** Spread and skew along each axis, in deviations: a place u lies at stretch u + skew (sqrt(1 + u2) - 1). */
  private readonly stretches: Float64Array;
  private readonly skews: Float64Array;
  /** The law along the told axes before it is stretched, skewed and bent. */
  readonly adapted: AdaptedNormal;
  /** By axis: its shift per product of places along two wider axes, a lower triangle; null where it is straight. */
  private readonly bends: (Float64Array | null)[];
  /** By axis: where the told axes narrower than it go along it. */
  private readonly ridges: Ridge[];

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
    this.told = all.filter((k) => this.deviations[k]! < TOLD);
    this.shaped = this.told.length > 0 ? this.told : all;
    this.spreads = Float64Array.from(all, (k) => (this.deviations[k]! < TOLD ? TOLD_SPREAD : UNTOLD_SPREAD));
    const narrow = all.filter((k) => this.deviations[k]! < NARROW);
    this.walked = narrow.length > 0 ? narrow : all;
    this.stretches = new Float64Array(size).fill(1);
    this.skews = new Float64Array(size);
    this.adapted = new AdaptedNormal(this.told);
    this.bends = all.map(() => null);
    this.ridges = all.map(() => ({ left: 0, shifts: [] }));
  }

  /** Scores of a place in the coordinates of the law. */
  place(u: Float64Array): Float64Array {
    const size = this.mean.length;
    const along = new Float64Array(size);
    const places = this.adapted.place(u);
    for (let k = 0; k < size; k++) {
      const v = places[k]!;
      const bow = Math.sqrt(1 + v * v) - 1;
      along[k] = this.stretches[k]! * v + this.skews[k]! * bow + this.shift(k, along);
    }
    return this.scoresAt(along);
  }

  /** Coordinates of some scores: the inverse of `place`. */
  locate(z: Float64Array): Float64Array {
    return this.adapted.locate(this.unadapted(z));
  }

  /** Coordinates of some scores as they would be had the law never been adapted. */
  unadapted(z: Float64Array): Float64Array {
    const size = this.mean.length;
    const along = new Float64Array(size);
    for (let k = 0; k < size; k++) {
      let sum = 0;
      for (let i = 0; i < size; i++) sum += this.axes[k * size + i]! * (z[i]! - this.mean[i]!);
      along[k] = sum / this.deviations[k]!;
    }
    return along.map((each, k) => {
      const [stretch, skew] = [this.stretches[k]!, this.skews[k]!];
      const off = each - this.shift(k, along) + skew;
      const rest = stretch * stretch - skew * skew;
      return (stretch * off - skew * Math.sqrt(off * off + rest)) / rest;
    });
  }

  /** How far out a place is along the told axes, in squared deviations; the place as from `unadapted`. */
  strangeness(v: Float64Array): number {
    return this.told.reduce((sum, k) => sum + v[k]! * v[k]!, 0);
  }

  /** Logarithm of the constant that `logVolume` leaves out: the product of all widths. */
  logScale(): number {
    const own = this.deviations.reduce((sum, each, k) => sum + log(each * this.stretches[k]!), 0);
    return own + this.adapted.logScale();
  }

  /** Logarithm of the volume of scores per volume in the coordinates of the law, up to a constant. */
  logVolume(u: Float64Array): number {
    let product = 1;
    const places = this.adapted.place(u);
    for (let k = 0; k < u.length; k++) {
      const skew = this.skews[k]!;
      if (skew === 0) continue;
      const v = places[k]!;
      product *= 1 + ((skew / this.stretches[k]!) * v) / Math.sqrt(1 + v * v);
    }
    return log(product);
  }

  /** Scores of a place along the straight axes, in deviations. */
  private scoresAt(along: Float64Array): Float64Array {
    const size = this.mean.length;
    const z = Float64Array.from(this.mean);
    for (let k = 0; k < size; k++) {
      const scaled = along[k]! * this.deviations[k]!;
      if (scaled === 0) continue;
      for (let i = 0; i < size; i++) z[i]! += scaled * this.axes[k * size + i]!;
    }
    return z;
  }

  private shift(k: number, along: Float64Array): number {
    const bend = this.bends[k];
    if (bend === null || bend === undefined) return 0;
    let sum = 0;
    let at = 0;
    for (let i = 0; i < k; i++) {
      let row = 0;
      for (let j = 0; j < i; j++) row += bend[at++]! * along[j]!;
      sum += row * along[i]! + (along[i] === 0 ? 0 : ridgeOffset(this.ridges[i]!, along[i]!, k));
    }
    return sum;
  }

  /**
   * Measures how the told axes bend, by what the data tell at points out along the axes: the part of it that is not
   * straight is what the narrower axes must make good. Singly each told axis is followed far out, in pairs a square form
   * does. Does nothing for a density without figures.
   *
   * @param breath called between points, to let others work and to hear of a stop.
   */
  async bend(density: LogDensity, breath: Breath): Promise<void> {
    const { told } = this;
    const size = this.mean.length;
    const figures = new Figures();
    let height = 0;
    const at = async (along: Float64Array): Promise<Float64Array> => {
      height = density(this.scoresAt(along), figures);
      await breath();
      return figures.values();
    };
    const on = (i: number, t: number, j = i, s = t): Float64Array => {
      const along = new Float64Array(size);
      along[i] = t;
      along[j] = s;
      return along;
    };
    const middle = await at(new Float64Array(size));
    if (middle.length === 0 || told.length === 0) return;
    const variances = figures.variances();
    const up: Float64Array[] = [];
    const down: Float64Array[] = [];
    for (let i = 0; i < size; i++) {
      up.push(await at(on(i, BEND_AT)));
      down.push(await at(on(i, -BEND_AT)));
    }
    const slopes = told.map((k) => up[k]!.map((each, m) => (each - down[k]![m]!) / (2 * BEND_AT)));
    const pulls = slopes.map((slope) => slope.map((each, m) => each / variances[m]!));
    const offset = (a: number, bent: Float64Array): number => {
      const pull = pulls[a]!;
      let sum = 0;
      for (let m = 0; m < bent.length; m++) sum += pull[m]! * bent[m]!;
      return Number.isFinite(sum) ? -sum : 0;
    };
    const top = density(this.mean);
    const shiftOf = (k: number, i: number): number => ridgeOffset(this.ridges[i]!, BEND_AT, k);
    for (const k of told) this.bends[k] = new Float64Array((k * (k - 1)) / 2);
    for (let i = 0; i < size; i++) {
      const isTold = told.includes(i);
      const sides: RidgePoint[][] = [];
      for (const sign of [-1, 1]) {
        const side: RidgePoint[] = [];
        const along = new Float64Array(size);
        for (let n = 1; n <= FURTHEST; n++) {
          along[i] = sign * n * RIDGE_STEP;
          // The best place met counts: figures lead astray where a law has several parts.
          let best = on(i, along[i]!);
          let fall = top - density(this.scoresAt(best));
          for (let sweep = 0; sweep <= SWEEPS; sweep++) {
            // What is told beyond the straight course.
            const bent = (await at(along)).map((each, m) => each - middle[m]!);
            if (top - height < fall) [best, fall] = [Float64Array.from(along), top - height];
            told.forEach((k, a) => {
              if (along[k] === 0) return;
              for (let m = 0; m < bent.length; m++) bent[m]! -= along[k]! * slopes[a]![m]!;
            });
            told.forEach((k, a) => {
              if (k > i) along[k] = Math.max(-MOST_SHIFT, Math.min(MOST_SHIFT, offset(a, bent)));
            });
          }
          along.set(best);
          if (!Number.isFinite(fall)) break;
          side.push({ t: along[i]!, fall, shifts: best.map((each, k) => (k > i ? each : 0)) });
          const asPrior = Math.abs(fall - 0.5 * n * n * RIDGE_STEP * RIDGE_STEP) < AS_PRIOR;
          if (fall > DEEPEST_FALL || (!isTold && asPrior)) break;
        }
        sides.push(side);
      }
      const [left, right] = sides as [RidgePoint[], RidgePoint[]];
      if (i < told.at(-1)!) {
        const points = [...left.toReversed(), { shifts: new Float64Array(size) }, ...right];
        this.ridges[i] = { left: left.length, shifts: points.map(({ shifts }) => shifts) };
      }
      if (isTold || left.length > 1 || right.length > 1) {
        // A law that is too narrow leaves tails that trap, one that is too wide only costs a little.
        const [low, high] = [reachOf(left), reachOf(right)];
        const stretch = (low + high) / 4;
        const most = MOST_SKEW * stretch;
        this.stretches[i] = stretch;
        this.skews[i] = Math.max(-most, Math.min(most, (high - low) / (2 * (Math.sqrt(5) - 1))));
      }
      for (let j = 0; j < i && i < told.at(-1)!; j++) {
        const pair = on(i, BEND_AT, j, BEND_AT);
        const both = await at(pair);
        const straight = height;
        const bent = both.map((each, m) => each - up[i]![m]! - up[j]![m]! + middle[m]!);
        const shifts = told.map((k, a) => (k > i ? offset(a, bent) / (BEND_AT * BEND_AT) : 0));
        if (Math.max(...shifts.map(Math.abs)) > SMALL_SHIFT) {
          told.forEach((k, a) => {
            if (k > i) pair[k] = shifts[a]! + shiftOf(k, i) + shiftOf(k, j);
          });
          const bare = on(i, BEND_AT, j, BEND_AT);
          told.forEach((k) => {
            if (k > i) bare[k] = shiftOf(k, i) + shiftOf(k, j);
          });
          if (!(density(this.scoresAt(pair)) > Math.max(straight, density(this.scoresAt(bare))))) continue;
        }
        told.forEach((k, a) => {
          if (k > i) this.bends[k]![(i * (i - 1)) / 2 + j] = shifts[a]!;
        });
      }
    }
    const shaped = Array.from(this.skews.keys()).filter(
      (k) => this.stretches[k]! > 1 + SHAPED || Math.abs(this.skews[k]!) > SHAPED,
    );
    if (shaped.length > 0) this.shaped = shaped;
  }
}
