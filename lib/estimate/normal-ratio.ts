import { standardNormalQuantile } from '../numeric/normal.js';

/**
 * Quantile of the ratio of two independent normal values with the same spread, for example of two air temperatures.
 *
 * The ratio lies below r when top - r × bottom lies below 0, which is a normal value again; that gives a quadratic
 * equation in r. It needs a bottom that is practically never negative.
 *
 * @param topMean mean of the value above the line.
 * @param bottomMean mean of the value below it; more than 5 standard deviations above 0.
 * @param standardDeviation of both, >= 0, same unit.
 * @param probability between 0 and 1, both excluded.
 * @returns the ratio that is not exceeded with this probability.
 * Throws RangeError where the bottom could be negative or an argument is out of range.
 * Source: E. C. Fieller, The distribution of the index in a normal bivariate population, Biometrika 24 (1932); from
 * memory.
 */
export function normalRatioQuantile(
  topMean: number,
  bottomMean: number,
  standardDeviation: number,
  probability: number,
): number {
  if (!(standardDeviation >= 0 && bottomMean > 5 * standardDeviation)) {
    throw new RangeError(
      `the value below the line must lie more than 5 standard deviations above 0; found ${bottomMean} and ${standardDeviation}`,
    );
  }
  if (!(probability > 0 && probability < 1)) {
    throw new RangeError(`probability must lie between 0 and 1; found ${probability}`);
  }
  const shift = standardNormalQuantile(probability) * standardDeviation;
  const spread = shift * Math.sqrt(topMean * topMean + bottomMean * bottomMean - shift * shift);
  return (topMean * bottomMean + spread) / (bottomMean * bottomMean - shift * shift);
}
