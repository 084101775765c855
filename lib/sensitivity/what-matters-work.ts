/** What the parts of a study took. */
import type { Simulation } from '../simulate/simulate.js';
import { PILOT_TRIALS } from './one-at-a-time.js';
import type { OneAtATimeStudy } from './one-at-a-time-types.js';
import type { ChoiceThreshold } from './threshold-types.js';
import type { VarianceStudy } from './variance-types.js';
import type { StageWork } from './what-matters-types.js';

const sum = (values: readonly number[]): number => values.reduce((all, each) => all + each, 0);

/** Trials, of all set-ups, and landings computed by each part that was begun. */
export function stageWork(
  { pairings, twins }: Simulation,
  oneAtATime: OneAtATimeStudy | null,
  variance: VarianceStudy | null,
  thresholds: readonly ChoiceThreshold[],
): StageWork[] {
  const tables = [...pairings, ...twins];
  const work: StageWork[] = [
    {
      stage: 'common run',
      trials: sum(tables.map(({ rows }) => rows)),
      landings: sum(tables.map(({ columns }) => columns.simulatedLandings.reduce((a, b) => a + b, 0))),
    },
  ];
  if (oneAtATime !== null) {
    const { assumptions, trials, setups, landings } = oneAtATime;
    const seen = assumptions.filter((each) => each.seen).length;
    const unseen = assumptions.length - seen;
    const worlds = trials * (1 + 2 * seen) + Math.min(trials, PILOT_TRIALS) * 2 * unseen;
    work.push({ stage: 'one at a time', trials: worlds * setups.length, landings });
  }
  if (variance !== null) {
    const { trials, setups, landings } = variance;
    work.push({ stage: 'shares of doubt', trials: trials * setups.length, landings });
  }
  if (thresholds.length > 0) {
    work.push({
      stage: 'thresholds',
      trials: sum(
        thresholds.map(({ points, trials }) => trials * sum(points.map(({ means }) => means.length))),
      ),
      landings: sum(thresholds.map(({ landings }) => landings)),
    });
  }
  return work;
}
