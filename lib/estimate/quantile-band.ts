import { quantileSorted } from './moments.js';

/** Where eight values in ten lie, and the middle one. */
export interface QuantileBand {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/**
 * Tenth, fiftieth and ninetieth percentile of a column (type 7, see `quantileSorted`).
 *
 * @param values any order; left as they are.
 * Throws RangeError for an empty column. O(n log n).
 */
export function quantileBand(values: Float64Array): QuantileBand {
  const sorted = Float64Array.from(values).sort();
  const [p10, p50, p90] = [0.1, 0.5, 0.9].map((probability) => quantileSorted(sorted, probability)) as [
    number,
    number,
    number,
  ];
  return { p10, p50, p90 };
}
