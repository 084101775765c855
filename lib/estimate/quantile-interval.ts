/** Interval for a quantile that assumes nothing about the distribution. */
import { binomialCdf } from '../numeric/special.js';
import { DEFAULT_LEVEL, requireLevel } from './interval.js';
import { quantileSorted } from './moments.js';

/** A quantile between two order statistics; a bound is null when there are too few values for one. */
export interface QuantileInterval {
  readonly estimate: number;
  readonly lower: number | null;
  readonly upper: number | null;
  /** Ranks of the bounds among the sorted values, 1 the smallest; null as above. */
  readonly lowerRank: number | null;
  readonly upperRank: number | null;
  /** Chance that the interval holds the quantile (at least the level asked for), for continuous values. */
  readonly coverage: number;
}

/** Smallest count k from 0 to n with P(B <= k) above `chance`, by halving. */
function smallestCountAbove(chance: number, trials: number, probability: number): number {
  let low = 0;
  let high = trials;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (binomialCdf(middle, trials, probability) > chance) high = middle;
    else low = middle + 1;
  }
  return low;
}

/**
 * Quantile of a sorted column with a distribution-free interval between two of its values.
 *
 * The number of values at or below the true quantile is binomial; each bound leaves out at most half of
 * 1 - level, and is moved out where it would miss the estimate. Works for any distribution; with ties it holds its
 * level or more.
 *
 * @param sorted values, ascending.
 * @param probability the quantile wanted, between 0 and 1.
 * @param level two-sided level, default 0.95.
 * Throws RangeError for an empty column or an argument out of range. O(log n) binomial sums.
 * Source: David and Nagaraja, Order Statistics, section 7.1; from memory. Estimate: type 7 of Hyndman and Fan.
 * @example
 * import { quantileInterval } from 'gravelbar';
 * const sorted = Float64Array.from({ length: 100 }, (_, i) => i + 1);
 * quantileInterval(sorted, 0.5).lowerRank; // => 40
 */
export function quantileInterval(
  sorted: ArrayLike<number>,
  probability: number,
  level = DEFAULT_LEVEL,
): QuantileInterval {
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`probability must lie between 0 and 1; found ${probability}`);
  }
  requireLevel(level);
  const estimate = quantileSorted(sorted, probability);
  const count = sorted.length;
  const tail = (1 - level) / 2;
  // Largest r with P(B <= r - 1) <= tail is the smallest k with P(B <= k) > tail; r = 0 means no bound.
  const lowerCount = smallestCountAbove(tail, count, probability);
  // Values above the quantile are binomial too, with the complementary chance.
  const upperCount = smallestCountAbove(tail, count, 1 - probability);
  // The estimate interpolates between two neighbours; a bound may not fall between them and the estimate.
  const position = (count - 1) * probability + 1;
  const lowerRank = lowerCount === 0 ? null : Math.min(lowerCount, Math.floor(position));
  const upperRank = upperCount === 0 ? null : Math.max(count + 1 - upperCount, Math.ceil(position));
  const missedBelow = lowerRank === null ? 0 : binomialCdf(lowerRank - 1, count, probability);
  const missedAbove = upperRank === null ? 0 : binomialCdf(count - upperRank, count, 1 - probability);
  return {
    estimate,
    lower: lowerRank === null ? null : sorted[lowerRank - 1]!,
    upper: upperRank === null ? null : sorted[upperRank - 1]!,
    lowerRank,
    upperRank,
    coverage: 1 - missedBelow - missedAbove,
  };
}
