/**
 * Means, variances and quantiles of long columns.
 *
 * simple-statistics does the same for plain arrays; these loops take typed arrays of any length and refuse
 * NaN and infinity. Tests hold the two together.
 */

/** Throws RangeError unless there are at least `least` values. */
function requireCount(values: ArrayLike<number>, least: number): void {
  if (values.length < least) {
    throw new RangeError(`values must hold at least ${least} numbers; found ${values.length}`);
  }
}

/**
 * Sum of term(0) ... term(count - 1), with the rounding error of every addition carried along.
 *
 * Source: A. Neumaier (1974), improved Kahan summation; from memory. Throws RangeError when the sum is not
 * finite.
 */
export function compensatedSum(count: number, term: (index: number) => number): number {
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < count; i += 1) {
    const next = term(i);
    const total = sum + next;
    lost += Math.abs(sum) >= Math.abs(next) ? sum - total + next : next - total + sum;
    sum = total;
  }
  const result = sum + lost;
  if (!Number.isFinite(result)) throw new RangeError('values must all be finite numbers');
  return result;
}

/** Arithmetic mean. Throws RangeError for an empty column or a value that is not finite. O(n). */
export function mean(values: ArrayLike<number>): number {
  requireCount(values, 1);
  return compensatedSum(values.length, (i) => values[i]!) / values.length;
}

/**
 * Covariance of two columns, divisor n - 1.
 *
 * Two passes, with the correction for a rounded mean of Chan, Golub and LeVeque (1983; from memory).
 * Throws RangeError when the columns differ in length, hold fewer than two values, or are not finite. O(n).
 */
export function sampleCovariance(first: ArrayLike<number>, second: ArrayLike<number>): number {
  requireCount(first, 2);
  if (first.length !== second.length) {
    throw new RangeError(`the columns must be equally long; found ${first.length} and ${second.length}`);
  }
  const count = first.length;
  const firstMean = mean(first);
  const secondMean = mean(second);
  const products = compensatedSum(count, (i) => (first[i]! - firstMean) * (second[i]! - secondMean));
  const firstRest = compensatedSum(count, (i) => first[i]! - firstMean);
  const secondRest = compensatedSum(count, (i) => second[i]! - secondMean);
  return (products - (firstRest * secondRest) / count) / (count - 1);
}

/** Variance, divisor n - 1. Throws RangeError for fewer than two values or one that is not finite. O(n). */
export function sampleVariance(values: ArrayLike<number>): number {
  // The correction term can outweigh a zero sum of squares by a rounding error.
  return Math.max(sampleCovariance(values, values), 0);
}

/** Standard deviation, divisor n - 1. */
export function sampleStandardDeviation(values: ArrayLike<number>): number {
  return Math.sqrt(sampleVariance(values));
}

/** Standard error of the mean of independent values: sample standard deviation / sqrt(n). */
export function standardErrorOfMean(values: ArrayLike<number>): number {
  return Math.sqrt(sampleVariance(values) / values.length);
}

/**
 * Standard error of the mean difference second - first when the two columns are paired (same trial, common
 * random numbers). Throws RangeError when the columns differ in length or hold fewer than two values.
 */
export function standardErrorOfPairedDifference(first: ArrayLike<number>, second: ArrayLike<number>): number {
  if (first.length !== second.length) {
    throw new RangeError(`the columns must be equally long; found ${first.length} and ${second.length}`);
  }
  return standardErrorOfMean(Float64Array.from({ length: first.length }, (_, i) => second[i]! - first[i]!));
}

/**
 * Quantile of a column that is already sorted ascending, by linear interpolation between order statistics:
 * type 7 of Hyndman and Fan (1996), the default of R and NumPy.
 *
 * `probability` in [0, 1]. Throws RangeError for an empty column or a probability outside [0, 1]. O(1).
 */
export function quantileSorted(sorted: ArrayLike<number>, probability: number): number {
  requireCount(sorted, 1);
  if (!(probability >= 0 && probability <= 1)) {
    throw new RangeError(`probability must lie in [0, 1]; found ${probability}`);
  }
  const position = (sorted.length - 1) * probability;
  const below = Math.floor(position);
  const lower = sorted[below]!;
  return position === below ? lower : lower + (position - below) * (sorted[below + 1]! - lower);
}
