import type { SeasonPressures } from './limit-types.js';
import { seasonPressures } from './season-pressures.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Progress } from '../simulate/simulate.js';

/** Which seasons are lived through. */
export interface SeasonsRequest {
  /** Seasons for each set-up and mix, 2 or more. */
  readonly trials: number;
  /** Names of the set-ups; default: all. */
  readonly setups?: readonly string[] | undefined;
  /** Names of the runway mixes; default: all. */
  readonly mixes?: readonly string[] | undefined;
  /** Called as seasons finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/**
 * Pressures that set-ups meet in a season, the widest over several mixes.
 *
 * @param scenario compiled scenario.
 * @param request which set-ups and mixes, and how many seasons.
 * @returns the pressures by set-up, as `setupLimits` takes them.
 * @throws UsageError for a name or number that does not exist; CancelledError when the signal fires.
 */
export async function pressuresOfSeason(
  scenario: CompiledScenario,
  { trials, setups, mixes, onProgress, signal }: SeasonsRequest,
): Promise<Readonly<Record<string, SeasonPressures>>> {
  const names = setups ?? scenario.setups.map(({ name }) => name);
  const mixNames = mixes ?? scenario.mixes.map(({ name }) => name);
  const totalTrials = trials * names.length * mixNames.length;
  let before = 0;
  const found: [string, SeasonPressures][] = [];
  for (const setup of names) {
    const seasons: SeasonPressures[] = [];
    for (const mix of mixNames) {
      const done = before;
      const tell = ({ finishedTrials }: Progress): void =>
        onProgress?.({ finishedTrials: done + finishedTrials, totalTrials });
      seasons.push(await seasonPressures(scenario, { setup, mix, trials, signal, onProgress: tell }));
      before += trials;
    }
    found.push([setup, widest(seasons)]);
  }
  return Object.fromEntries(found);
}

/** The extremes over several mixes; the usual pressure is the lowest usual one. */
function widest(seasons: readonly SeasonPressures[]): SeasonPressures {
  const over = (pick: (season: SeasonPressures) => number, of: (...values: number[]) => number): number =>
    of(...seasons.map(pick));
  return {
    mainLowestPa: over(({ mainLowestPa }) => mainLowestPa, Math.min),
    mainHighestPa: over(({ mainHighestPa }) => mainHighestPa, Math.max),
    mainLandedPa: over(({ mainLandedPa }) => mainLandedPa, Math.min),
    thirdLowestPa: over(({ thirdLowestPa }) => thirdLowestPa, Math.min),
    thirdHighestPa: over(({ thirdHighestPa }) => thirdHighestPa, Math.max),
    thirdLandedPa: over(({ thirdLandedPa }) => thirdLandedPa, Math.min),
  };
}
