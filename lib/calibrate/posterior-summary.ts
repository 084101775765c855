import { log } from '../numeric/elementary.js';
import type { PriorCoordinate } from './prior.js';
import type { FitCorrelation, FittedAssumption, LearnedDirection } from './posterior-types.js';
import { eigenParts, inverseMatrix, rowMoments, type RowMoments } from './sampler-matrix.js';
import type { SampledPosterior } from './sampler.js';
import { standardNormalQuantile } from '../numeric/normal.js';
import { verdictOf } from './verdict.js';

/** Probabilities of the quantiles that a fit tells. */
export const FIT_PROBABILITIES: readonly number[] = [
  0.01, 0.025, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9, 0.95, 0.975, 0.99,
];
const CORRELATIONS_TOLD = 20;
const LEAST_CORRELATION = 0.2;
const DIRECTIONS_TOLD = 3;
/** Combinations that the records narrow to less than this share are told. */
const TOLD_DEVIATION = 0.5;
const LEAST_WEIGHT = 0.15;

/** Quantile of ascending values, linear between them (type 7). */
export function quantileOfSorted(values: ArrayLike<number>, probability: number): number {
  const at = probability * (values.length - 1);
  const low = Math.floor(at);
  const next = Math.min(values.length - 1, low + 1);
  return values[low]! + (at - low) * (values[next]! - values[low]!);
}

/** Summary of draws. */
export interface PosteriorSummary {
  readonly assumptions: readonly FittedAssumption[];
  readonly correlations: readonly FitCorrelation[];
  readonly directions: readonly LearnedDirection[];
  readonly moments: RowMoments;
}

/**
 * Sums up draws of scores: each number before and after, what is tied to what, and which combinations are known best.
 *
 * @param coordinates the numbers, one per column.
 */
export function summarizePosterior(
  coordinates: readonly PriorCoordinate[],
  { chains, diagnostics }: SampledPosterior,
): PosteriorSummary {
  const size = coordinates.length;
  const rows = chains.flat();
  const moments = rowMoments(rows, size);
  const { mean, covariance } = moments;
  const precision = inverseMatrix(covariance, size, 1e-12);
  const deviation = Float64Array.from({ length: size }, (_, i) => Math.sqrt(covariance[i * size + i]!));
  const correlation = (i: number, j: number): number => {
    const scale = deviation[i]! * deviation[j]!;
    return scale > 0 ? covariance[i * size + j]! / scale : 0;
  };
  const assumptions = coordinates.map(({ path, form, valueAt }, i): FittedAssumption => {
    const scores = Float64Array.from(rows, (row) => row[i]!).sort();
    const posterior = FIT_PROBABILITIES.map((p) => valueAt(quantileOfSorted(scores, p)));
    const prior = FIT_PROBABILITIES.map((p) => valueAt(standardNormalQuantile(p)));
    const alone = Math.min(deviation[i]!, 1 / Math.sqrt(precision[i * size + i]!));
    const ties = coordinates.flatMap((other, j) =>
      j === i ? [] : [{ path: other.path, correlation: correlation(i, j) }],
    );
    return {
      path,
      form,
      quantiles: { prior, posterior },
      priorMedian: valueAt(0),
      median: valueAt(quantileOfSorted(scores, 0.5)),
      scoreDeviation: deviation[i]!,
      scoreMean: mean[i]!,
      scoreDeviationAlone: alone,
      effectiveSize: diagnostics[i]!.effectiveSize,
      rHat: diagnostics[i]!.rHat,
      ...verdictOf({ path, deviation: deviation[i]!, deviationAlone: alone, ties }),
    };
  });
  const correlations: FitCorrelation[] = [];
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < i; j++) {
      const value = correlation(i, j);
      if (Math.abs(value) < LEAST_CORRELATION) continue;
      correlations.push({ one: coordinates[j]!.path, other: coordinates[i]!.path, correlation: value });
    }
  }
  correlations.sort((one, other) => Math.abs(other.correlation) - Math.abs(one.correlation));
  return {
    assumptions: assumptions.sort((one, other) => one.scoreDeviation - other.scoreDeviation),
    correlations: correlations.slice(0, CORRELATIONS_TOLD),
    directions: learnedDirections(coordinates, moments),
    moments,
  };
}

function learnedDirections(
  coordinates: readonly PriorCoordinate[],
  { covariance }: RowMoments,
): LearnedDirection[] {
  const size = coordinates.length;
  const { values, vectors } = eigenParts(covariance, size);
  const directions: LearnedDirection[] = [];
  for (let k = size - 1; k >= 0 && directions.length < DIRECTIONS_TOLD; k--) {
    const deviation = Math.sqrt(Math.max(0, values[k]!));
    if (deviation > TOLD_DEVIATION) break;
    const all = coordinates.map(({ path }, i) => ({ path, weight: vectors[k * size + i]! }));
    all.sort((one, other) => Math.abs(other.weight) - Math.abs(one.weight));
    const sign = all[0]!.weight < 0 ? -1 : 1;
    const weights = all
      .filter(({ weight }) => Math.abs(weight) >= LEAST_WEIGHT)
      .map(({ path, weight }) => ({ path, weight: sign * weight }));
    directions.push({ deviation, weights });
  }
  return directions;
}

/** Information gained on all numbers together, in nats: half the fall of the logarithm of the determinant. */
export function informationGained({ covariance }: RowMoments, size: number): number {
  return eigenParts(covariance, size).values.reduce(
    (sum, value) => sum - 0.5 * log(Math.max(value, 1e-300)),
    0,
  );
}
