import type { CensoredLife } from './censored-lives.js';
import { standardLaw, type LifeLawName } from './life-laws.js';
import { turnbull } from './turnbull.js';

/** A point of a probability plot: on its axes a law of the kind is a straight line. */
export interface ProbabilityPoint {
  /** Time, in the unit of the lives. */
  readonly time: number;
  /** Share of lives ended by then, in (0, 1): the middle of the step of the life curve. */
  readonly ended: number;
  /** ln time. */
  readonly x: number;
  /** Quantile of the standard law at that share: a line of slope 1 / spread if the law holds. */
  readonly y: number;
}

/**
 * Points of a probability plot, to see whether lives follow a law.
 *
 * @param lives with any censoring and delayed entry.
 * @param law whose straight line they should follow.
 * @returns a point at each step of the life curve; for a stretch of time, at its end. None where nothing has ended.
 * Throws RangeError for no lives or one that cannot be.
 * Source: plotting at the middle of the step as in Meeker and Escobar, "Statistical Methods for Reliability Data", 1998,
 * section 6.4 (from memory).
 */
export function probabilityPlot(lives: readonly CensoredLife[], law: LifeLawName): ProbabilityPoint[] {
  const { quantile } = standardLaw(law);
  return turnbull(lives).stretches.flatMap(({ to, share, survival }) => {
    const ended = 1 - survival - 0.5 * share;
    if (to === Infinity || !(ended > 0 && ended < 1)) return [];
    return [{ time: to, ended, x: Math.log(to), y: quantile(ended) }];
  });
}
