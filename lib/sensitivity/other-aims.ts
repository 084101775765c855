/** What the other aims say of the same mix, from the common run. */
import { openContest } from '../decide/contest.js';
import { CRITERIA, trialsOnMix, whatIsUnpriced, type Criterion } from '../decide/criteria.js';
import { pairedDifference } from '../estimate/paired.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import type { OtherAim } from './what-matters-types.js';

/**
 * Which set-up is best on average by each of the other criteria that can be told.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param mix name of the runway mix.
 * @param criterion what set-ups are chosen by; left out.
 * @param level two-sided level at which the best is told from the next.
 */
export function otherAims(
  scenario: CompiledScenario,
  simulation: Simulation,
  mix: string,
  criterion: Criterion,
  level: number,
): OtherAim[] {
  const onMix = trialsOnMix(scenario, simulation, mix);
  const priced = whatIsUnpriced(scenario, onMix.setups) === null;
  return CRITERIA.filter((each) => each !== criterion && (each !== 'costPerHour' || priced)).flatMap(
    (each) => {
      const { gains, best, original } = openContest(scenario, onMix, each);
      // By an aim that is the same for all, such as flats where there are none, nothing is chosen.
      if (original.every((first) => first === original[best])) return [];
      const toldApart = gains.every(
        (other, setup) =>
          original[setup] === original[best] || pairedDifference(gains[best]!, other, level).lower > 0,
      );
      return [{ criterion: each, best: onMix.setups[best]!, toldApart }];
    },
  );
}
