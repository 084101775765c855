import { inflationChoiceChart } from '../chart/inflation-choice.js';
import { sweepPressure } from '../decide/pressure-sweep.js';
import { pressureTable } from '../present/pressure-table.js';
import { compileScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { answerQuestion, seeded, type DecisionOptions } from './decision.js';

/** Options of `gravelbar pressure`. */
export interface PressureCommandOptions extends DecisionOptions {
  readonly setup: string;
  readonly mix?: string;
}

/**
 * `gravelbar pressure FILE --setup S`: which cold pressure of the main tires, and how often to check it.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export function pressureCommand(
  scenario: Scenario,
  options: PressureCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  return answerQuestion('pressure', options, signal, async (following) => {
    const { setup, mix, trials, workers } = options;
    const compiled = compileScenario(seeded(scenario, options));
    const sweep = await sweepPressure(compiled, { setup, mix, trials, workers, ...following });
    return {
      result: sweep,
      text: pressureTable(sweep, scenario.name),
      chart: () => inflationChoiceChart(sweep),
    };
  });
}
