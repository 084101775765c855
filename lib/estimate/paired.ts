/** Means and paired differences with their Monte Carlo error. */
import { betaQuantile } from '../numeric/special.js';
import { DEFAULT_LEVEL, requireLevel, type IntervalEstimate } from './interval.js';
import { mean, sampleVariance } from './moments.js';

/** A mean with its Monte Carlo standard error and interval. */
export interface MeanEstimate extends IntervalEstimate {
  readonly standardError: number;
}

/** A mean difference of two set-ups that met the same landings in the same worlds. */
export interface PairedDifference extends MeanEstimate {
  /**
   * Variance of the paired difference over that of independent runs (the sum of the two variances): 0.1 means that
   * common landings are worth ten times as many trials. Null where neither figure varies.
   */
  readonly varianceRatio: number | null;
}

/**
 * How many standard errors a two-sided interval for a mean reaches to each side when the error itself was estimated:
 * the quantile of Student's t distribution.
 *
 * @param level two-sided level, between 0 and 1.
 * @param degreesOfFreedom above 0; values less one.
 * Throws RangeError for a bad level. Source: DLMF 8.17 (the t distribution as an incomplete beta function).
 */
export function studentMultiplier(level: number, degreesOfFreedom: number): number {
  requireLevel(level);
  const square = betaQuantile(1 - level, degreesOfFreedom / 2, 0.5);
  return Math.sqrt(degreesOfFreedom * (1 / square - 1));
}

/**
 * Mean of independent values with an interval that is exact for normal values and close for many of any kind.
 *
 * @param values one figure per trial, at least two.
 * @param level two-sided level, default 0.95.
 * Throws RangeError for fewer than two values, values that are not finite, or a bad level.
 */
export function meanWithInterval(values: ArrayLike<number>, level = DEFAULT_LEVEL): MeanEstimate {
  const estimate = mean(values);
  const standardError = Math.sqrt(sampleVariance(values) / values.length);
  const reach = studentMultiplier(level, values.length - 1) * standardError;
  return { estimate, standardError, lower: estimate - reach, upper: estimate + reach };
}

/**
 * Mean difference first - second of two columns that are paired trial by trial (common random numbers).
 *
 * The error is that of the differences, so whatever both set-ups share in a trial, its world and its landings, drops
 * out: Var(A - B) = Var A + Var B - 2 Cov(A, B).
 *
 * @param first one figure per trial.
 * @param second the same figure of the other set-up, in the same trials.
 * @param level two-sided level, default 0.95.
 * @returns exactly 0 with no error for two equal columns.
 * Throws RangeError for fewer than two trials, unequal lengths, values that are not finite, or a bad level.
 * Source: paired t interval; common random numbers, Ross, Simulation (from memory).
 * @example
 * import { pairedDifference } from 'gravelbar';
 * pairedDifference(Float64Array.of(5, 9, 4), Float64Array.of(3, 8, 1)).estimate; // => 2
 */
export function pairedDifference(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  level = DEFAULT_LEVEL,
): PairedDifference {
  const differences = differencesOf(first, second);
  const independent = sampleVariance(first) + sampleVariance(second);
  return {
    ...meanWithInterval(differences, level),
    varianceRatio: independent > 0 ? sampleVariance(differences) / independent : null,
  };
}

/** Differences first - second, row by row. Throws RangeError for unequal lengths. */
export function differencesOf(first: ArrayLike<number>, second: ArrayLike<number>): Float64Array {
  if (first.length !== second.length) {
    throw new RangeError(`the columns must be equally long; found ${first.length} and ${second.length}`);
  }
  const differences = new Float64Array(first.length);
  for (let i = 0; i < differences.length; i += 1) differences[i] = first[i]! - second[i]!;
  return differences;
}
