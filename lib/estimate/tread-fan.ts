import { UsageError } from '../problems.js';
import { flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { TireWear, WearHistories } from '../simulate/wear-histories.js';
import { summarizeReading, type LifeSummary } from './life.js';
import { quantileBand, type QuantileBand } from './quantile-band.js';

/** Rubber left above the cords after a number of landings, over all sets of main tires, m; 0 where cords show. */
export interface TreadFanPoint {
  readonly landings: number;
  readonly flightHours: number;
  /** Share of the sets on which cords do not show yet. */
  readonly followedShare: number;
  /** On the centre band of the tire of the two that has less left there. */
  readonly centreLeftM: QuantileBand;
  /** On the shoulder that has least left: inner or outer, left or right tire. */
  readonly shoulderLeftM: QuantileBand;
  /** At the worst spot of the two tires, all round: scars of pivot turns included. */
  readonly worstSpotLeftM: QuantileBand;
}

/** How the main tires of a pairing wear, by wear alone: as if nothing else ended them. */
export interface TreadFan {
  readonly setup: string;
  readonly mix: string;
  readonly seed: string;
  readonly trials: number;
  /** From new tires to the last look at which cords show on no more than half of the sets. */
  readonly points: readonly TreadFanPoint[];
  /** Rubber above the cords of a new tire, m. */
  readonly newRubberM: number;
  /** Rubber that is left above the cords at the tread limit, m. */
  readonly limitRubberM: number;
  /** At which of the two readings these tires come off. */
  readonly removedAt: 'tread limit' | 'cords';
  readonly treadLimit: LifeSummary;
  readonly cords: LifeSummary;
}

/** The fan ends where fewer of the sets are still followed. */
const LEAST_FOLLOWED = 0.5;

/**
 * Sums up how main tires wear: what is left of centre and shoulders, look by look.
 *
 * A set is followed until cords show on one of its tires and counts from then on as it was; the fan ends where cords
 * show on more than half of the sets.
 *
 * @param scenario the compiled scenario that was recorded.
 * @param histories from `recordWear`, with looks from new tires on.
 * @returns percentiles over trials; luck and ignorance together.
 * @throws UsageError if cords show on more than half of the sets at every look.
 */
export function treadFan(scenario: CompiledScenario, histories: WearHistories): TreadFan {
  const { setup, mix, looks, trials, rubberM, newTreadM, treadLimitM } = histories;
  const { cordsLandings, treadLimitLandings, followedLandings } = trials.columns;
  const points: TreadFanPoint[] = [];
  for (let look = 0; look < looks.length; look++) {
    const landings = looks[look]!;
    const followedShare = shareFollowed(cordsLandings, landings);
    if (followedShare < LEAST_FOLLOWED) break;
    points.push({
      landings,
      flightHours: flightHoursAfter(scenario.calendar, landings),
      followedShare,
      centreLeftM: bandLeft(histories, look, ({ centreM }, row) => centreM[row]!),
      shoulderLeftM: bandLeft(histories, look, ({ innerM, outerM }, row) =>
        Math.max(innerM[row]!, outerM[row]!),
      ),
      worstSpotLeftM: bandLeft(histories, look, ({ deepestM }, row) => deepestM[row]!),
    });
  }
  if (points.length === 0) {
    throw new UsageError(
      `cords show on more than half of the sets at the first look, after ${looks[0]!} landings: look earlier`,
    );
  }
  const { calendar, habits, seed } = scenario;
  return {
    setup,
    mix,
    seed,
    trials: trials.rows,
    points,
    newRubberM: rubberM,
    limitRubberM: rubberM - newTreadM + treadLimitM,
    removedAt: habits.removeAtCords ? 'cords' : 'tread limit',
    treadLimit: summarizeReading(calendar, treadLimitLandings, followedLandings),
    cords: summarizeReading(calendar, cordsLandings, followedLandings),
  };
}

/** Share of the sets on which cords do not show before a landing. */
function shareFollowed(cordsLandings: Int32Array, landings: number): number {
  let followed = 0;
  for (const cords of cordsLandings) if (cords < 0 || cords >= landings) followed++;
  return followed / cordsLandings.length;
}

/** What is left at a look where the worse of the two tires has lost most. */
function bandLeft(
  { left, right, looks, trials, rubberM }: WearHistories,
  look: number,
  lostM: (tire: TireWear, row: number) => number,
): QuantileBand {
  const values = new Float64Array(trials.rows);
  for (let trial = 0; trial < values.length; trial++) {
    const row = trial * looks.length + look;
    values[trial] = Math.max(0, rubberM - Math.max(lostM(left, row), lostM(right, row)));
  }
  return quantileBand(values);
}
