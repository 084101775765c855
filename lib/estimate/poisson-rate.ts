/** Interval for a rate from a count of independent events. */
import { gammaQuantile, gammaQuantileUpper } from '../numeric/special.js';
import { DEFAULT_LEVEL, requireLevel, type IntervalEstimate } from './interval.js';

/**
 * Garwood's exact interval for the rate of a Poisson count.
 *
 * Use it for counts of events that do not come in clusters; counts whose rate differs from trial to trial vary
 * more than Poisson counts, and then the interval is too short.
 *
 * @param events events counted, a whole number >= 0.
 * @param exposure what they were counted over (landings, hours, trials), > 0; the rate is per unit of it.
 * @param level two-sided level, default 0.95.
 * @returns rates per unit of exposure; lower is 0 for no event and upper is then about 3.7 / exposure.
 * Throws RangeError naming the argument.
 * Source: Garwood (1936), as gamma quantiles; the method of R's poisson.test.
 * @example
 * import { garwoodInterval } from 'gravelbar';
 * garwoodInterval(3, 100).upper.toFixed(4); // => '0.0877'
 */
export function garwoodInterval(events: number, exposure: number, level = DEFAULT_LEVEL): IntervalEstimate {
  if (!(Number.isInteger(events) && events >= 0)) {
    throw new RangeError(`events must be a whole number of 0 or more; found ${events}`);
  }
  if (!(exposure > 0 && exposure < Infinity)) {
    throw new RangeError(`exposure must be a finite number above 0; found ${exposure}`);
  }
  requireLevel(level);
  const tail = (1 - level) / 2;
  return {
    estimate: events / exposure,
    lower: events === 0 ? 0 : gammaQuantile(tail, events, 1) / exposure,
    upper: gammaQuantileUpper(tail, events + 1, 1) / exposure,
  };
}
