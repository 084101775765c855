import { mean, sampleVariance, standardErrorOfMean } from '../estimate/moments.js';

/** An estimate with the error that the simulation leaves. */
export interface Measured {
  readonly estimate: number;
  readonly standardError: number;
}

/** Mean of a column. */
export function measuredMean(values: ArrayLike<number>): Measured {
  return { estimate: mean(values), standardError: standardErrorOfMean(values) };
}

/**
 * Standard deviation of a column. Its standard error comes from the fourth moment: var(s2) is about (m4 - s4) / n, and
 * s has half the relative error of s2 (Kendall and Stuart, The Advanced Theory of Statistics; from memory).
 */
export function measuredSpread(values: ArrayLike<number>): Measured {
  const centre = mean(values);
  const variance = sampleVariance(values);
  const spread = Math.sqrt(variance);
  const fourth = mean(Float64Array.from(values, (each) => (each - centre) ** 4));
  const errorOfVariance = Math.sqrt(Math.max(0, fourth - variance * variance) / values.length);
  return { estimate: spread, standardError: spread === 0 ? 0 : errorOfVariance / (2 * spread) };
}

/** Share of a column for which something holds, with the standard error that the exact chance gives. */
export function measuredShare(
  values: ArrayLike<number>,
  holds: (value: number) => boolean,
  chance: number,
): Measured {
  let count = 0;
  for (let index = 0; index < values.length; index++) if (holds(values[index]!)) count++;
  return {
    estimate: count / values.length,
    standardError: Math.sqrt((chance * (1 - chance)) / values.length),
  };
}
