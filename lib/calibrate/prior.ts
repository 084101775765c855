import { exp, log } from '../numeric/elementary.js';
import type { CompiledAssumption } from '../scenario/compile.js';
import { assumptionQuantile } from '../simulate/world.js';
import { fastNormalCdf } from './likelihood-normal.js';

/**
 * Value of an assumption at a standard normal score: its quantile at the probability of the score. In scores every prior
 * is standard normal, whatever its form.
 *
 * @param assumption the assumption.
 * @param score any number; ignored for a fixed value.
 * @returns SI units, kept inside the plausible range of the field.
 */
export function valueAtScore(assumption: CompiledAssumption, score: number): number {
  const { kind, a, b, lower, upper } = assumption;
  // Directly where it is simple, as a probability next to 1 has lost its digits.
  if (kind === 'normal') return Math.min(upper, Math.max(lower, a + b * score));
  if (kind === 'lognormal') return Math.min(upper, Math.max(lower, a * exp(b * score)));
  return assumptionQuantile(assumption, fastNormalCdf(score));
}

/** One number that the records may tell about, as a function of a standard normal score. */
export interface PriorCoordinate {
  /** Place in the scenario, or name of a number that belongs to the records. */
  readonly path: string;
  /** Index of the assumption; null for a number that belongs to the records. */
  readonly index: number | null;
  readonly form: 'lognormal' | 'normal';
  /** Value at a score, SI units. */
  readonly valueAt: (score: number) => number;
}

/** A coordinate for every assumption that is in doubt. */
export function assumptionCoordinates(assumptions: readonly CompiledAssumption[]): PriorCoordinate[] {
  return assumptions.flatMap((assumption, index): PriorCoordinate[] => {
    const { kind, path } = assumption;
    if (kind === 'fixed') return [];
    const form = kind === 'lognormal' ? kind : 'normal';
    return [{ path, index, form, valueAt: (score) => valueAtScore(assumption, score) }];
  });
}

/** Z score of the 90 % quantile. */
const Z_P90 = 1.2815515655446004;

/**
 * A number of the records themselves, lognormal.
 *
 * @param path its name.
 * @param median SI units.
 * @param p90OverMedian its 90 % quantile over its median, above 1.
 */
export function recordCoordinate(path: string, median: number, p90OverMedian: number): PriorCoordinate {
  const sigma = log(p90OverMedian) / Z_P90;
  return { path, index: null, form: 'lognormal', valueAt: (score) => median * exp(sigma * score) };
}
