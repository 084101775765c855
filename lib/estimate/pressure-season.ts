import { UsageError } from '../problems.js';
import { dateText, seasonMonths, type MonthSpan } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { LOW_READING_SHARE } from '../simulate/counts.js';
import type { PressureHistories } from '../simulate/pressure-histories.js';
import { landingGroups, type LandingGroup } from './landing-groups.js';
import { pressureParts, type PressurePart, type PressureWheel } from './pressure-parts.js';
import { quantileBand, type QuantileBand } from './quantile-band.js';

/** Gauge pressure in a few landings that follow each other, as met at the strips, over all trials. */
export interface PressureSeasonPoint {
  /** Mean day of the landings, from the start of the season. */
  readonly day: number;
  /** Its date, for example "14 June". */
  readonly date: string;
  /** First and last of the landings, from 1. */
  readonly firstLanding: number;
  readonly lastLanding: number;
  readonly gaugePa: QuantileBand;
}

/** Gauge pressure of one wheel over the season. */
export interface PressureSeason {
  readonly setup: string;
  readonly mix: string;
  readonly seed: string;
  readonly trials: number;
  readonly wheel: 'left main' | 'nose' | 'tail';
  /** Cold setting, Pa. */
  readonly coldPa: number;
  /** A reading at a check below this counts as low, Pa. */
  readonly lowPa: number;
  readonly checkEveryDays: number;
  /** Days of the checks that fall on landings of the season. */
  readonly checkDays: readonly number[];
  readonly months: readonly MonthSpan[];
  readonly points: readonly PressureSeasonPoint[];
  /** Share of the landings of the season below `lowPa`. */
  readonly lowShare: number;
  readonly parts: readonly PressurePart[];
}

/** Points of a season that has that many landings. */
const MOST_POINTS = 120;
/** With more checks than this, points do not begin anew at each. */
const MOST_CHECKS = 60;

/**
 * Sums up the pressure of a tire over the season: where eight landings in ten find it, and what temperature, elevation
 * and permeation each do to it.
 *
 * @param scenario the compiled scenario that was recorded.
 * @param histories from `recordPressures`.
 * @param wheel the left main wheel, or the nose or tail wheel; default the former.
 * @returns percentiles over trials; luck and ignorance together.
 * @throws UsageError if `wheel` is neither.
 */
export function pressureSeason(
  scenario: CompiledScenario,
  histories: PressureHistories,
  wheel: PressureWheel = 'main',
): PressureSeason {
  requireWheel(wheel);
  const { setup, mix, trials, landings, day, checked } = histories;
  const [gaugePa, coldPa] =
    wheel === 'main'
      ? [histories.leftMainPa, histories.mainColdPa]
      : [histories.thirdPa, histories.thirdColdPa];
  const checks = Array.from(day.keys()).filter((landing) => checked[landing] === 1);
  const groups = landingGroups(landings, MOST_POINTS, checks.length > MOST_CHECKS ? [] : checks);
  const lowPa = LOW_READING_SHARE * coldPa;
  let low = 0;
  for (const pressure of gaugePa) if (pressure < lowPa) low++;
  const ends = groups.flatMap(({ from, to }) => (to - from === 1 ? [from] : [from, to - 1]));
  return {
    setup,
    mix,
    seed: scenario.seed,
    trials,
    wheel: wheel === 'main' ? 'left main' : scenario.airplane.gear,
    coldPa,
    lowPa,
    checkEveryDays: scenario.setups.find(({ name }) => name === setup)!.checkEveryDays,
    checkDays: checks.map((landing) => day[landing]!),
    months: seasonMonths(scenario.calendar),
    points: groups.map((group) => {
      const middle = day.subarray(group.from, group.to).reduce((sum, each) => sum + each, 0);
      const mean = middle / (group.to - group.from);
      return {
        day: mean,
        date: dateText(scenario.calendar, mean),
        firstLanding: group.from + 1,
        lastLanding: group.to,
        gaugePa: quantileBand(valuesIn(gaugePa, trials, landings, group)),
      };
    }),
    lowShare: low / gaugePa.length,
    parts: pressureParts(scenario, setup, mix, wheel, checked, ends),
  };
}

function requireWheel(wheel: string): void {
  if (wheel === 'main' || wheel === 'third') return;
  throw new UsageError(`wheel is "${wheel}"; it must be "main", or "third" for the nose or tail wheel`);
}

/** The pressures of all trials in a group of landings. */
function valuesIn(
  gaugePa: Float32Array,
  trials: number,
  landings: number,
  { from, to }: LandingGroup,
): Float64Array {
  const values = new Float64Array(trials * (to - from));
  for (let trial = 0; trial < trials; trial++) {
    values.set(gaugePa.subarray(trial * landings + from, trial * landings + to), trial * (to - from));
  }
  return values;
}
