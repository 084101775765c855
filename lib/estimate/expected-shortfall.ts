/** Mean of the worst part of a distribution. */
import { DEFAULT_LEVEL } from './interval.js';
import { meanWithInterval, type MeanEstimate } from './paired.js';

/** Mean of the worst share of values, with its Monte Carlo error. */
export interface ExpectedShortfall extends MeanEstimate {
  /** The share, for example 0.1 for the worst tenth. */
  readonly tail: number;
  /** Where the worst share begins. */
  readonly threshold: number;
}

/**
 * Expected shortfall: the mean of the largest values that make up a share of all, with a part of the value on the
 * edge where the share is not a whole number of values. (The mean of the values at or beyond the quantile is another
 * figure, and a wrong one where values repeat.)
 *
 * @param sorted values, ascending; large is bad.
 * @param tail share of values, in (0, 1]; default a tenth.
 * @param level two-sided level of the interval, default 0.95.
 * @returns in the unit of the values. The error is that of q + max(x - q, 0) / tail, q the threshold held fixed; with
 *   few values in the tail the estimate is a little low.
 * Throws RangeError for fewer than two values, values that are not finite, or an argument out of range. O(n).
 * Source: Acerbi and Tasche (2002); Rockafellar and Uryasev (2002); the error: Trindade and others (2007). From
 * memory; values checked against worked cases.
 * @example
 * import { expectedShortfall } from 'gravelbar';
 * const losses = Float64Array.from({ length: 10 }, (_, i) => i + 1);
 * expectedShortfall(losses, 0.2).estimate; // => 9.5
 */
export function expectedShortfall(
  sorted: ArrayLike<number>,
  tail = 0.1,
  level = DEFAULT_LEVEL,
): ExpectedShortfall {
  if (!(tail > 0 && tail <= 1)) throw new RangeError(`tail must be above 0 and at most 1; found ${tail}`);
  const count = sorted.length;
  const inTail = count * tail;
  // The edge is the value that the share ends in; a rounding error must not move it.
  const edge = Math.min(Math.max(count - Math.ceil(inTail - 1e-9), 0), count - 1);
  const threshold = sorted[edge]!;
  const excess = Float64Array.from(
    { length: count },
    (_, i) => threshold + Math.max(sorted[i]! - threshold, 0) / tail,
  );
  return { ...meanWithInterval(excess, level), tail, threshold };
}
