import { lifeCurveChart } from '../chart/life-curve.js';
import { remainingLife } from '../decide/remaining-life.js';
import { remainingTable } from '../present/remaining-table.js';
import { UsageError } from '../problems.js';
import { runScenario } from '../run.js';
import { compileScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { indexOfName } from '../simulate/names.js';
import { answerQuestion, seeded, type DecisionOptions } from './decision.js';

/** Time from now that the tires should reach: flight hours, or days. */
export type ReachText = { readonly hours: number } | { readonly days: number };

/** Options of `gravelbar remaining`. */
export interface RemainingCommandOptions extends DecisionOptions {
  readonly reach?: readonly ReachText[];
}

/**
 * `gravelbar remaining FILE`: the life left in the main tires on the airplane, from what a tread gauge says.
 *
 * @param scenario the scenario of the file; its section "today" says what is known of the tires.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export function remainingCommand(
  scenario: Scenario,
  options: RemainingCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  return answerQuestion('remaining', options, signal, async (following) => {
    const compiled = compileScenario(seeded(scenario, options));
    const { today } = compiled;
    if (today === null) {
      throw new UsageError(
        'the scenario has no "today": say there what is on the airplane, its hours or landings, and tread readings',
      );
    }
    const { setup, mix } = today;
    const { reach = [], trials, workers } = options;
    const life = await remainingLife(
      compiled,
      {
        setup,
        mix,
        trials,
        reachHours: reach.flatMap((each) => ('hours' in each ? [each.hours] : [])),
        reachDays: reach.flatMap((each) => ('days' in each ? [each.days] : [])),
        ...following,
      },
      today,
    );
    return {
      result: life,
      text: remainingTable(life),
      chart: async () => {
        const pairing = {
          setup: indexOfName('set-up', setup, compiled.setups),
          mix: indexOfName('runway mix', mix, compiled.mixes),
        };
        const { result } = await runScenario(compiled, { pairings: [pairing], workers, ...following });
        return lifeCurveChart(result, { setup, mix, today: life });
      },
    };
  });
}
