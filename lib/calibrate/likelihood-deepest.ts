import { fastNormalCdf, fastNormalDensity } from './likelihood-normal.js';

/** Two depths this close are one, m2 (a hundredth of a millimetre squared): keeps divisions sound. */
const LEAST_DIFFERENCE = 1e-10;

/** Law of the deepest of three bands, as a normal law. */
export interface Deepest {
  meanM: number;
  varianceM2: number;
  /** Chance that each band is the deepest: how much a reading of the deepest tells about it. */
  readonly weights: Float64Array;
}

/**
 * Mean and variance of the largest of three correlated normal depths, two at a time.
 *
 * Smooth in all arguments, which a plain maximum is not: a jump in a likelihood would trap a sampler.
 *
 * @param mean depths, m; three from `at` on.
 * @param covariance of all depths, m2, rows of `size`.
 * @param target receives the law.
 * @see C. E. Clark, "The greatest of a finite set of random variables", Operations Research 9 (1961), from memory.
 */
export function deepestOf(
  mean: Float64Array,
  covariance: Float64Array,
  size: number,
  at: number,
  target: Deepest,
): void {
  const [m1, m2, m3] = [mean[at]!, mean[at + 1]!, mean[at + 2]!];
  const of = (i: number, j: number): number => covariance[(at + i) * size + at + j]!;
  const [v1, v2, v3] = [of(0, 0), of(1, 1), of(2, 2)];
  takeLarger(m1, v1, m2, v2, of(0, 1));
  const firstShare = larger.share;
  const withThird = firstShare * of(0, 2) + (1 - firstShare) * of(1, 2);
  takeLarger(larger.mean, larger.variance, m3, v3, withThird);
  target.meanM = larger.mean;
  target.varianceM2 = larger.variance;
  target.weights[0] = larger.share * firstShare;
  target.weights[1] = larger.share * (1 - firstShare);
  target.weights[2] = 1 - larger.share;
}

/** What `takeLarger` found: one object for all calls, as they come by the million. Share: chance that the first is larger. */
const larger = { mean: 0, variance: 0, share: 0 };

function takeLarger(m1: number, v1: number, m2: number, v2: number, covariance: number): void {
  const spread = Math.sqrt(Math.max(LEAST_DIFFERENCE, v1 + v2 - 2 * covariance));
  const alpha = (m1 - m2) / spread;
  const share = fastNormalCdf(alpha);
  const bulge = spread * fastNormalDensity(alpha);
  const mean = m1 * share + m2 * (1 - share) + bulge;
  // About the mean, so that no digits are lost.
  const [o1, o2] = [m1 - mean, m2 - mean];
  const variance = (o1 * o1 + v1) * share + (o2 * o2 + v2) * (1 - share) + (o1 + o2) * bulge;
  larger.mean = mean;
  larger.variance = variance > 0 ? variance : 0;
  larger.share = share;
}
