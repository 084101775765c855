import { quantileSorted } from '../estimate/moments.js';
import { DAYS_PER_YEAR } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { recordPressures } from '../simulate/pressure-histories.js';
import type { WatchRequest } from '../simulate/watch.js';
import type { SeasonPressures } from './limit-types.js';

/** One season in ten goes lower than the lowest pressure given, and higher than the highest. */
const EXTREME_SHARE = 0.1;

/**
 * Gauge pressures that a set-up meets at its landings in a season, from simulated trials: temperature, elevation,
 * permeation, slow leaks and checks included.
 *
 * @param scenario compiled scenario.
 * @param request set-up, runway mix, trials (default 400).
 * @returns the lowest between checks, the highest and the usual one, for main and third wheel.
 * @throws UsageError for a name or number that does not exist; CancelledError when the signal fires.
 */
export async function seasonPressures(
  scenario: CompiledScenario,
  request: WatchRequest,
): Promise<SeasonPressures> {
  // Only the first year counts, so the trials need not live on.
  const year = { ...scenario, horizonDays: DAYS_PER_YEAR };
  const { trials, landings, leftMainPa, thirdPa } = await recordPressures(year, request);
  const main = extremes(leftMainPa, trials, landings);
  const third = extremes(thirdPa, trials, landings);
  return {
    mainLowestPa: main.lowestPa,
    mainHighestPa: main.highestPa,
    mainLandedPa: main.landedPa,
    thirdLowestPa: third.lowestPa,
    thirdHighestPa: third.highestPa,
    thirdLandedPa: third.landedPa,
  };
}

function extremes(
  gaugePa: Float32Array,
  trials: number,
  landings: number,
): { lowestPa: number; highestPa: number; landedPa: number } {
  const lowest = new Float64Array(trials);
  const highest = new Float64Array(trials);
  for (let trial = 0; trial < trials; trial++) {
    const season = gaugePa.subarray(trial * landings, (trial + 1) * landings);
    lowest[trial] = season.reduce((least, each) => Math.min(least, each), Infinity);
    highest[trial] = season.reduce((most, each) => Math.max(most, each), 0);
  }
  return {
    lowestPa: quantileSorted(lowest.sort(), EXTREME_SHARE),
    highestPa: quantileSorted(highest.sort(), 1 - EXTREME_SHARE),
    landedPa: quantileSorted(gaugePa.toSorted(), 0.5),
  };
}
