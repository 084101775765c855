/** How alike the lives of twins are: the share of the spread that the world decides, on a scale free of units. */
import { exp } from '../numeric/elementary.js';
import { TWO_PI } from '../numeric/gamma.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { compensatedSum } from './moments.js';
import type { Estimate } from './shares.js';

/** Values in order with the normal score of each: the mean of a standard normal variable over its place in the order. */
interface ScoreTable {
  /** Distinct values, ascending; Infinity for those beyond the horizon. */
  readonly values: Float64Array;
  readonly score: Float64Array;
  /** Upper end of the place of each value, as a standard normal quantile. */
  readonly upperEnd: Float64Array;
  /** Sum of squared scores weighted by the width of their places. */
  readonly variance: number;
}

function density(z: number): number {
  return Number.isFinite(z) ? exp(-0.5 * z * z) / Math.sqrt(TWO_PI) : 0;
}

function scoreTable(pooled: Float64Array): ScoreTable {
  const sorted = pooled.slice().sort();
  const values: number[] = [];
  const score: number[] = [];
  const upperEnd: number[] = [];
  let variance = 0;
  let below = 0;
  let lowEnd = -Infinity;
  while (below < sorted.length) {
    let upTo = below + 1;
    while (upTo < sorted.length && sorted[upTo] === sorted[below]) upTo += 1;
    const highEnd = standardNormalQuantile(upTo / sorted.length);
    const width = (upTo - below) / sorted.length;
    const mean = (density(lowEnd) - density(highEnd)) / width;
    values.push(sorted[below]!);
    score.push(mean);
    upperEnd.push(highEnd);
    variance += width * mean * mean;
    below = upTo;
    lowEnd = highEnd;
  }
  return {
    values: Float64Array.from(values),
    score: Float64Array.from(score),
    upperEnd: Float64Array.from(upperEnd),
    variance,
  };
}

function scoreOf(table: ScoreTable, value: number): number {
  let low = 0;
  let high = table.values.length - 1;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (table.values[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return table.score[low]!;
}

/** Terms of the expansion below; the rest decays at least as fast as the last one. */
const HERMITE_TERMS = 48;

/**
 * Squared coefficients of the scores in normalised Hermite polynomials. For bivariate normal variables with correlation
 * r the covariance of the scores is the sum of coefficient k times r^k: ties and lives beyond the horizon lower it, and
 * the sum tells by how much.
 * Source: Mehler's expansion (DLMF 18.18.28).
 */
function hermitePowers({ score, upperEnd, variance }: ScoreTable): Float64Array {
  const coefficients = new Float64Array(HERMITE_TERMS + 1);
  let fromBelow = new Float64Array(HERMITE_TERMS);
  for (let place = 0; place < score.length; place += 1) {
    const z = upperEnd[place]!;
    const height = density(z);
    // h(k) density, which is 0 at infinity whatever the polynomial.
    const atEnd = new Float64Array(HERMITE_TERMS);
    if (height > 0) {
      let before = 0;
      let now = height;
      for (let k = 0; k < HERMITE_TERMS; k += 1) {
        atEnd[k] = now;
        const next = (z * now - Math.sqrt(k) * before) / Math.sqrt(k + 1);
        before = now;
        now = next;
      }
    }
    for (let k = 1; k <= HERMITE_TERMS; k += 1) {
      coefficients[k]! += (score[place]! * (fromBelow[k - 1]! - atEnd[k - 1]!)) / Math.sqrt(k);
    }
    fromBelow = atEnd;
  }
  const powers = coefficients.map((value) => value * value);
  let rest = variance;
  for (const power of powers) rest -= power;
  powers[HERMITE_TERMS]! += Math.max(rest, 0);
  return powers;
}

/** Correlation of scores when the variables behind them have correlation r, and its slope in r. */
function scoreCorrelation(powers: Float64Array, variance: number, r: number): [value: number, slope: number] {
  let value = 0;
  let slope = 0;
  for (let k = HERMITE_TERMS; k >= 0; k -= 1) {
    slope = slope * r + value;
    value = value * r + powers[k]!;
  }
  return [value / variance, slope / variance];
}

/**
 * Intraclass correlation of pairs about a mean of 0: covariance over covariance and half the mean squared difference,
 * with the jackknife standard error. Null where the pairs do not differ at all.
 */
function pairCorrelation(first: Float64Array, twin: Float64Array): Estimate | null {
  const count = first.length;
  const product = (i: number): number => first[i]! * twin[i]!;
  const half = (i: number): number => (first[i]! - twin[i]!) ** 2 / 2;
  const products = compensatedSum(count, product);
  const halves = compensatedSum(count, half);
  const whole = products + halves;
  if (!(whole > 0)) return null;
  const without = (i: number): number => {
    const rest = whole - product(i) - half(i);
    return rest > 0 ? (products - product(i)) / rest : 0;
  };
  const centre = compensatedSum(count, without) / count;
  const variance = ((count - 1) / count) * compensatedSum(count, (i) => (without(i) - centre) ** 2);
  return { estimate: products / whole, standardError: Math.sqrt(variance) };
}

/** Twins on the normal scale. */
export interface TwinScores {
  /**
   * Correlation of the normal variables behind the lives of twins, 0 to 1: the share of the variance that the world
   * decides.
   */
  readonly correlation: Estimate;
  /** Score of a life. */
  readonly scoreOf: (life: number) => number;
}

/**
 * Correlation of the lives of twins on the scale of normal scores, free of units and of the shape of the lives.
 *
 * @param lives life of every trial; Infinity where it lies beyond the common horizon.
 * @param first lives of the trials that have a twin.
 * @param twin lives of their twins, in the same order.
 * @returns null where all lives, or those of all pairs, are tied: they tell nothing. The correlation is that of the
 *   normal variables: what ties and the horizon take away is put back by Mehler's expansion. A negative estimate, which
 *   only chance can give, is 0. Standard error by the jackknife over pairs, carried through the expansion.
 */
export function twinScores(lives: Float64Array, first: Float64Array, twin: Float64Array): TwinScores | null {
  const pooled = new Float64Array(lives.length + twin.length);
  pooled.set(lives);
  pooled.set(twin, lives.length);
  const table = scoreTable(pooled);
  if (table.values.length < 2) return null;
  const read = (life: number): number => scoreOf(table, life);
  const pairs = pairCorrelation(first.map(read), twin.map(read));
  if (pairs === null) return null;
  const powers = hermitePowers(table);
  let low = 0;
  let high = 1;
  for (let halving = 0; halving < 50; halving += 1) {
    const middle = 0.5 * (low + high);
    if (scoreCorrelation(powers, table.variance, middle)[0] < pairs.estimate) low = middle;
    else high = middle;
  }
  const estimate = 0.5 * (low + high);
  const [, slope] = scoreCorrelation(powers, table.variance, estimate);
  return {
    correlation: { estimate, standardError: Math.min(pairs.standardError / slope, 1) },
    scoreOf: read,
  };
}
