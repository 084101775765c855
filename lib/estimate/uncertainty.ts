import { mean, standardErrorOfMean } from './moments.js';
import { varianceParts, type VarianceParts } from './variance-parts.js';

/**
 * Three kinds of doubt about one figure, kept apart.
 *
 * Luck is what differs between seasons flown in the same world: it shrinks with the size of the fleet. Ignorance is
 * what differs between worlds: it shrinks with measurement. The numerical part is the error of the simulation: it
 * shrinks with trials.
 */
export interface ThreeDoubts {
  /** Standard deviation within a world; null if there were too few twins to tell. */
  readonly luck: number | null;
  /** Standard deviation between worlds of the mean within the world; null likewise. */
  readonly ignorance: number | null;
  /** The same with its variance two standard errors higher: what few twins do not rule out; null likewise. */
  readonly ignoranceAtMost: number | null;
  /** Standard error of the estimated mean. */
  readonly numerical: number;
}

/** With fewer pairs the split is mostly noise, and a noisy ignorance of 0 would be the opposite of honest. */
export const LEAST_PAIRS = 25;

/**
 * Splits the spread of a figure by means of twins: trials in the same world with fresh landings.
 *
 * @param values one figure per trial.
 * @param first the same figure for the trials that have a twin.
 * @param twin the figure of their twins, in the same order.
 */
export function splitDoubt(values: Float64Array, first: Float64Array, twin: Float64Array): ThreeDoubts {
  const numerical = standardErrorOfMean(values);
  if (twin.length < LEAST_PAIRS) return { luck: null, ignorance: null, ignoranceAtMost: null, numerical };
  const parts = varianceParts(first, twin);
  return {
    luck: parts.luckStandardDeviation,
    ignorance: parts.ignoranceStandardDeviation,
    ignoranceAtMost: atMost(parts),
    numerical,
  };
}

/**
 * True where twins do not tell a spread, only what it is not above: it may as well be twice as large.
 *
 * @param spread 0 or more.
 * @param atMost the same with its variance two standard errors higher.
 */
export function isOnlyBounded(spread: number, atMost: number): boolean {
  return atMost > 2 * spread;
}

/** Two standard errors of the variance higher; that of the spread is its rise with the variance one error higher. */
function atMost({
  ignoranceStandardDeviation: spread,
  ignoranceStandardError: error,
}: VarianceParts): number {
  const errorOfVariance = (spread + error) * (spread + error) - spread * spread;
  return Math.sqrt(spread * spread + 2 * errorOfVariance);
}

/**
 * Splits the doubt about the chance of an event in a season.
 *
 * Given the world, the outcome is yes or no with some chance; ignorance is the spread of that chance between worlds,
 * luck is what is left of the spread of the outcome, p (1 - p).
 *
 * @param chance estimated chance over all worlds.
 * @param chances chance of the event along the path of each trial with a twin.
 * @param twinChances the same for the twins.
 * @param standardError Monte Carlo standard error of the chance.
 */
export function splitChanceDoubt(
  chance: number,
  chances: Float64Array,
  twinChances: Float64Array,
  standardError: number,
): ThreeDoubts {
  if (twinChances.length < LEAST_PAIRS) {
    return { luck: null, ignorance: null, ignoranceAtMost: null, numerical: standardError };
  }
  const parts = varianceParts(chances, twinChances);
  const ignorance = parts.ignoranceStandardDeviation;
  const luckVariance = chance * (1 - chance) - ignorance * ignorance;
  return {
    luck: Math.sqrt(luckVariance > 0 ? luckVariance : 0),
    ignorance,
    ignoranceAtMost: atMost(parts),
    numerical: standardError,
  };
}

/**
 * Mean and standard error of a column.
 *
 * @param values one figure per trial.
 */
export function meanEstimate(values: ArrayLike<number>): { estimate: number; standardError: number } {
  return {
    estimate: mean(values),
    standardError: values.length < 2 ? 0 : standardErrorOfMean(values),
  };
}
