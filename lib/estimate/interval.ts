/** What every estimate here shares: its interval, the level of that interval, and bounds when nothing was seen. */
import { exp, log } from '../numeric/elementary.js';
import { standardNormalQuantile } from '../numeric/normal.js';

/** An estimate with a two-sided interval; all three in the same unit, lower <= estimate <= upper. */
export interface IntervalEstimate {
  readonly estimate: number;
  readonly lower: number;
  readonly upper: number;
}

/** Two-sided level used when none is given: common practice, no source. */
export const DEFAULT_LEVEL = 0.95;

/** Throws RangeError unless `level` lies strictly between 0 and 1. */
export function requireLevel(level: number): void {
  if (!(level > 0 && level < 1)) throw new RangeError(`level must lie between 0 and 1; found ${level}`);
}

/** How many standard errors a two-sided normal interval reaches to each side (1.96 for level 0.95). */
export function normalMultiplier(level: number): number {
  requireLevel(level);
  return -standardNormalQuantile((1 - level) / 2);
}

/**
 * Highest chance still believable at this two-sided level when none of `trials` independent trials showed the
 * event: 1 - (alpha/2)^(1/trials), the Clopper-Pearson bound at zero. `trials` > 0 may be fractional, since
 * censored data are worth a fractional number of complete trials.
 */
export function highestChanceWhenNoneSeen(trials: number, level: number): number {
  requireLevel(level);
  return 1 - exp(log((1 - level) / 2) / trials);
}

/**
 * Interval for a survival chance on the log(-log) scale, which keeps it inside [0, 1].
 *
 * At 0 and at 1 that scale has no value and the Greenwood error is 0, so the bound there is the
 * Clopper-Pearson one for `effectiveTrials` complete trials: the band never has zero width.
 * Source: Kalbfleisch and Prentice's log(-log) interval, the R survival package's conf.type "log-log"; the
 * bound at the ends is Clopper and Pearson's (1934). Both attributions from memory.
 */
export function logLogBand(
  survival: number,
  standardError: number,
  effectiveTrials: number,
  level: number,
): { lower: number; upper: number } {
  if (survival <= 0) return { lower: 0, upper: highestChanceWhenNoneSeen(effectiveTrials, level) };
  if (survival >= 1) return { lower: 1 - highestChanceWhenNoneSeen(effectiveTrials, level), upper: 1 };
  const logSurvival = log(survival);
  const stretch = exp((normalMultiplier(level) * standardError) / (survival * -logSurvival));
  return { lower: exp(logSurvival * stretch), upper: exp(logSurvival / stretch) };
}
