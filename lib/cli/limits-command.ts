import { limitsChart } from '../chart/limits.js';
import { setupLimits } from '../decide/setup-limits.js';
import type { LimitsAnswer } from '../present/decision-types.js';
import { limitsTable } from '../present/limits-table.js';
import { pressuresOfSeason } from '../decide/season-limits.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { indexOfName } from '../simulate/names.js';
import { version } from '../version.js';
import { answerQuestion, seeded, type DecisionOptions, type Following } from './decision.js';

/** Options of `gravelbar limits`. */
export interface LimitsCommandOptions extends DecisionOptions {
  readonly setup?: string;
  readonly mix?: string;
}

/** Seasons lived through for each set-up and mix: the tenth lowest of 200 is known within a few tenths of a psi. */
const DEFAULT_TRIALS = 200;

/**
 * `gravelbar limits FILE`: holds set-ups against their limits, at the pressures of a season too.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export function limitsCommand(
  scenario: Scenario,
  options: LimitsCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  return answerQuestion('limits', options, signal, async (following) => {
    const compiled = compileScenario(seeded(scenario, options));
    const answer = await limitsAnswer(compiled, options, following);
    return { result: answer, text: limitsTable(answer), chart: () => limitsChart(answer.setups, answer) };
  });
}

async function limitsAnswer(
  scenario: CompiledScenario,
  { setup, mix, trials = DEFAULT_TRIALS }: LimitsCommandOptions,
  following: Following,
): Promise<LimitsAnswer> {
  const setups = setup === undefined ? scenario.setups : [named('set-up', setup, scenario.setups)];
  const mixes = mix === undefined ? scenario.mixes : [named('runway mix', mix, scenario.mixes)];
  const setupNames = setups.map(({ name }) => name);
  const mixNames = mixes.map(({ name }) => name);
  const pressures = await pressuresOfSeason(scenario, {
    trials,
    setups: setupNames,
    mixes: mixNames,
    ...following,
  });
  // All set-ups stay in the scenario, as figures are told over that of the stiffest.
  const limits = setupLimits(scenario, { mixes: mixNames, seasonPressures: pressures });
  return {
    scenario: scenario.name,
    version: version(),
    seed: scenario.seed,
    trials,
    mixes: mixNames,
    setups: limits.filter((each) => setupNames.includes(each.setup)),
  };
}

/** An entry by its name. Throws UsageError if there is none. */
function named<Entry extends { readonly name: string }>(
  kind: string,
  name: string,
  entries: readonly Entry[],
): Entry {
  return entries[indexOfName(kind, name, entries)]!;
}
