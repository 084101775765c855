/** Intervals for a chance from a count of events in independent trials. */
import { betaQuantile } from '../numeric/special.js';
import { DEFAULT_LEVEL, normalMultiplier, requireLevel, type IntervalEstimate } from './interval.js';

function requireCounts(events: number, trials: number): void {
  if (!(Number.isInteger(trials) && trials >= 1)) {
    throw new RangeError(`trials must be a whole number of 1 or more; found ${trials}`);
  }
  if (!(Number.isInteger(events) && events >= 0 && events <= trials)) {
    throw new RangeError(`events must be a whole number from 0 to ${trials}; found ${events}`);
  }
}

/**
 * Wilson's score interval for a chance: close to its level on average, short, and sound at 0 events.
 *
 * `events` of `trials` (whole numbers), two-sided `level`; result inside [0, 1], lower exactly 0 for no event
 * and upper exactly 1 for all. Throws RangeError naming the argument. See also `clopperPearsonInterval` for a
 * guaranteed level. Source: Wilson (1927), method 3 of Newcombe, Stat Med 17:857 (1998).
 * @example
 * import { wilsonInterval } from 'gravelbar';
 * wilsonInterval(15, 148).upper.toFixed(4); // => '0.1605'
 */
export function wilsonInterval(events: number, trials: number, level = DEFAULT_LEVEL): IntervalEstimate {
  requireCounts(events, trials);
  return wilson(events, trials, level);
}

/**
 * Wilson's interval for a share of trials in which ties count in parts, so that it is not a whole number of trials.
 * The spread of such parts is less than that of whole events, so the interval holds its level or more.
 *
 * @param share in [0, 1].
 * @param trials a whole number of 1 or more.
 * Throws RangeError for an argument out of range.
 */
export function wilsonForShare(share: number, trials: number, level = DEFAULT_LEVEL): IntervalEstimate {
  requireCounts(0, trials);
  if (!(share >= 0 && share <= 1)) throw new RangeError(`share must lie in [0, 1]; found ${share}`);
  return { ...wilson(share * trials, trials, level), estimate: share };
}

function wilson(events: number, trials: number, level: number): IntervalEstimate {
  const z = normalMultiplier(level);
  const square = z * z;
  const middle = events + square / 2;
  const reach = z * Math.sqrt((events * (trials - events)) / trials + square / 4);
  const whole = trials + square;
  return {
    estimate: events / trials,
    // Exact at the ends, where rounding could step outside [0, 1].
    lower: events === 0 ? 0 : (middle - reach) / whole,
    upper: events === trials ? 1 : (middle + reach) / whole,
  };
}

/**
 * Clopper and Pearson's exact interval for a chance: holds at least its level whatever the chance.
 *
 * Same arguments and errors as `wilsonInterval`. With no event in n trials the upper bound is about 3.7/n at
 * level 0.95. Source: Clopper and Pearson (1934), as beta quantiles; method 5 of Newcombe, Stat Med 17:857
 * (1998).
 * @example
 * import { clopperPearsonInterval } from 'gravelbar';
 * clopperPearsonInterval(0, 1000).upper.toFixed(5); // => '0.00368'
 */
export function clopperPearsonInterval(
  events: number,
  trials: number,
  level = DEFAULT_LEVEL,
): IntervalEstimate {
  requireCounts(events, trials);
  requireLevel(level);
  const tail = (1 - level) / 2;
  return {
    estimate: events / trials,
    lower: events === 0 ? 0 : betaQuantile(tail, events, trials - events + 1),
    upper: events === trials ? 1 : betaQuantile(1 - tail, events + 1, trials - events),
  };
}

/**
 * Jeffreys interval for a chance: the equal-tailed posterior interval under a beta(1/2, 1/2) prior.
 *
 * Same arguments and errors as `wilsonInterval`. The lower bound is 0 for no event and the upper 1 for all;
 * the other bound stays off the end, so the interval never closes. Source: Brown, Cai and DasGupta (2001),
 * Statistical Science 16:101; from memory.
 * @example
 * import { jeffreysInterval } from 'gravelbar';
 * jeffreysInterval(0, 20).upper.toFixed(4); // => '0.1166'
 */
export function jeffreysInterval(events: number, trials: number, level = DEFAULT_LEVEL): IntervalEstimate {
  requireCounts(events, trials);
  requireLevel(level);
  const tail = (1 - level) / 2;
  return {
    estimate: events / trials,
    lower: events === 0 ? 0 : betaQuantile(tail, events + 0.5, trials - events + 0.5),
    upper: events === trials ? 1 : betaQuantile(1 - tail, events + 0.5, trials - events + 0.5),
  };
}
