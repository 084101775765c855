/** How much of the spread between trials is luck, and how much is not knowing. */
import { compensatedSum, sampleCovariance } from './moments.js';

/** Two standard deviations with their standard errors, in the unit of the values. */
export interface VarianceParts {
  /** Spread from fresh luck within one world, averaged over worlds. */
  readonly luckStandardDeviation: number;
  readonly luckStandardError: number;
  /** Spread between worlds of the mean result: what better knowledge could take away. */
  readonly ignoranceStandardDeviation: number;
  readonly ignoranceStandardError: number;
}

/** Mean and jackknife variance of n leave-one-out values given one by one. */
function jackknifeVariance(count: number, leaveOneOut: (index: number) => number): number {
  const centre = compensatedSum(count, leaveOneOut) / count;
  return ((count - 1) / count) * compensatedSum(count, (i) => (leaveOneOut(i) - centre) ** 2);
}

/**
 * Standard error of a standard deviation from that of its square: the rise when the variance is one error
 * higher. It equals error / (2 sd) when the error is small, and stays finite when the variance is 0.
 */
function errorOfRoot(variance: number, error: number): number {
  return error === 0 ? 0 : error / (Math.sqrt(variance) + Math.sqrt(variance + error));
}

/**
 * Splits the variance of a result into luck and ignorance from worlds that were lived twice.
 *
 * Each world is one draw of everything we do not know; its twin shares those unknowns and has fresh luck.
 * Half the mean squared difference of the pairs estimates the luck variance without bias; their covariance
 * estimates the ignorance variance without bias (it can come out below 0 by chance and is then given as 0).
 * The third part, the numerical error of the mean, is `standardErrorOfMean` over all trials.
 *
 * @param first result of each world's first life, any unit; at least 3 pairs.
 * @param twin result of the same worlds lived again, in the same order.
 * Throws RangeError for fewer than 3 pairs, unequal lengths or values that are not finite. O(n).
 * Source: the law of total variance, by the one-way random-effects moments (Searle, Casella and McCulloch,
 * Variance Components); standard errors by the jackknife (Efron 1982). From memory.
 * @example
 * import { varianceParts } from 'gravelbar';
 * const parts = varianceParts(Float64Array.of(1, 5, 9), Float64Array.of(3, 7, 11));
 * [parts.luckStandardDeviation ** 2, parts.ignoranceStandardDeviation].map(Math.round); // => [2, 4]
 */
export function varianceParts(first: Float64Array, twin: Float64Array): VarianceParts {
  const count = first.length;
  if (count < 3) throw new RangeError(`first must hold at least 3 results; found ${count}`);
  const ignorance = Math.max(sampleCovariance(first, twin), 0);
  const half = (i: number): number => (first[i]! - twin[i]!) ** 2 / 2;
  const halfSum = compensatedSum(count, half);
  const luck = halfSum / count;

  const firstMean = compensatedSum(count, (i) => first[i]!) / count;
  const twinMean = compensatedSum(count, (i) => twin[i]!) / count;
  const product = (i: number): number => (first[i]! - firstMean) * (twin[i]! - twinMean);
  const products = compensatedSum(count, product);
  // Leaving a pair out of a sum of products about the mean takes n/(n-1) of its own product away.
  const covarianceWithout = (i: number): number =>
    (products - (product(i) * count) / (count - 1)) / (count - 2);
  const luckVariance = jackknifeVariance(count, (i) => (halfSum - half(i)) / (count - 1));
  const ignoranceVariance = jackknifeVariance(count, covarianceWithout);
  return {
    luckStandardDeviation: Math.sqrt(luck),
    luckStandardError: errorOfRoot(luck, Math.sqrt(luckVariance)),
    ignoranceStandardDeviation: Math.sqrt(ignorance),
    ignoranceStandardError: errorOfRoot(ignorance, Math.sqrt(ignoranceVariance)),
  };
}
