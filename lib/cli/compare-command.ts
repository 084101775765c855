import { comparisonChart } from '../chart/comparison.js';
import { comparePairings } from '../decide/compare.js';
import { whatIsUnpriced, type Criterion } from '../decide/criteria.js';
import { moneyOfPairings } from '../decide/money.js';
import { compareTable } from '../present/compare-table.js';
import { askedCriteria } from '../present/compare-words.js';
import type { CompareAnswer } from '../present/decision-types.js';
import { UsageError } from '../problems.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { indexOfName } from '../simulate/names.js';
import { simulate } from '../simulate/simulate.js';
import { allPairings } from '../simulate/trials.js';
import { version } from '../version.js';
import { answerQuestion, seeded, type DecisionOptions } from './decision.js';

/** Options of `gravelbar compare`. */
export interface CompareCommandOptions extends DecisionOptions {
  readonly mix?: string;
  readonly by?: Criterion;
}

/**
 * `gravelbar compare FILE`: which set-up is best on each mix, by how much, and how sure that is.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export function compareCommand(
  scenario: Scenario,
  options: CompareCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  return answerQuestion('compare', options, signal, async (following) => {
    const { mix, by, trials, workers } = options;
    const compiled = compileScenario(seeded(scenario, options));
    const onMix = mix === undefined ? null : indexOfName('runway mix', mix, compiled.mixes);
    requireComparable(compiled, options);
    const pairings = allPairings(compiled).filter((pairing) => onMix === null || pairing.mix === onMix);
    const simulation = await simulate(compiled, { pairings, trials, workers, ...following });
    const comparisons = comparePairings(compiled, simulation, {
      mix,
      criteria: by === undefined ? undefined : [by],
    });
    const answer: CompareAnswer = {
      scenario: scenario.name,
      version: version(),
      seed: simulation.seed,
      trials: simulation.trials,
      comparisons,
      money: moneyOfPairings(compiled, simulation, { mix }),
    };
    return {
      result: answer,
      text: compareTable(answer),
      chart: () =>
        comparisonChart(comparisons, { criterion: by ?? drawnCriterion(answer), seed: simulation.seed }),
    };
  });
}

/** Finds out before the run whether there is something to compare. */
function requireComparable(scenario: CompiledScenario, { by }: CompareCommandOptions): void {
  const names = scenario.setups.map(({ name }) => name);
  if (names.length < 2) {
    throw new UsageError(
      `a comparison needs at least two set-ups; the scenario has one: ${names.join(', ')}`,
    );
  }
  const unpriced = by === 'costPerHour' ? whatIsUnpriced(scenario, names) : null;
  if (unpriced !== null) throw new UsageError(`money cannot be compared: ${unpriced.needs}`);
}

/** Money where there are prices, else life. */
function drawnCriterion({ comparisons }: CompareAnswer): Criterion {
  const priced = comparisons.every(({ best }) => best.costPerHour?.priced === true);
  return priced ? 'costPerHour' : askedCriteria(comparisons)[0]!;
}
