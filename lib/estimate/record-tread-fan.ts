import type { CompiledScenario } from '../scenario/compile.js';
import type { Progress } from '../simulate/simulate.js';
import { watchedTrials, type WatchRequest } from '../simulate/watch.js';
import { recordWear } from '../simulate/wear-histories.js';
import { treadFan, type TreadFan } from './tread-fan.js';

/** Looks from new tires to the end of the fan. */
const LOOKS = 60;
/** Trials that tell where it will end, and how far beyond their answer to look: four of its standard errors. */
const FIRST_TRIALS = 128;
const ROOM = 1.25;

/**
 * Lives through trials of one pairing and sums up how its main tires wear, at about sixty looks up to the landing at
 * which cords show on half of the sets, or up to the horizon.
 *
 * @param scenario compiled scenario.
 * @param request which pairing, how many trials.
 * @returns the fan.
 * @throws UsageError for a name or number that does not exist; CancelledError when the signal fires.
 */
export async function recordTreadFan(scenario: CompiledScenario, request: WatchRequest): Promise<TreadFan> {
  const trials = watchedTrials(request);
  const firstTrials = Math.min(FIRST_TRIALS, trials);
  const totalTrials = firstTrials + trials;
  const tell =
    (before: number) =>
    ({ finishedTrials }: Progress): void =>
      request.onProgress?.({ finishedTrials: before + finishedTrials, totalTrials });
  const first = await recordWear(scenario, { ...request, trials: firstTrials, onProgress: tell(0) }, [0]);
  const { cordsLandings, followedLandings } = first.trials.columns;
  const horizon = followedLandings[0]!;
  const reached = cordsLandings.map((landings) => (landings < 0 ? horizon : landings)).sort();
  const median = reached[Math.floor(firstTrials / 2)]!;
  const last = Math.min(horizon, Math.ceil(ROOM * median));
  const step = Math.max(1, Math.ceil(last / LOOKS));
  const looks = Array.from({ length: Math.ceil(last / step) + 1 }, (_, index) =>
    Math.min(index * step, last),
  );
  const histories = await recordWear(scenario, { ...request, trials, onProgress: tell(firstTrials) }, looks);
  return treadFan(scenario, histories);
}
