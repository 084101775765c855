import { betaQuantile } from '../../lib/numeric/special.js';

/**
 * Fewest and most of `trials` that a sound count keeps within, where each counts with a chance between `least` and `most`.
 *
 * @param alarm chance that a count of chance `least` lies below or one of chance `most` above, two-sided: exact, by the
 *   tails of the binomial law.
 */
export function binomialBand(
  trials: number,
  least: number,
  most: number,
  alarm: number,
): [fewest: number, most: number] {
  let fewest = 0;
  // P(count <= k) is a tail of the beta law: that of the k-th of uniform numbers in order.
  while (betaQuantile(1 - alarm / 2, fewest + 1, trials - fewest) < least) fewest++;
  let greatest = trials;
  while (greatest > 0 && betaQuantile(alarm / 2, greatest, trials - greatest + 1) > most) greatest--;
  return [fewest, greatest];
}
