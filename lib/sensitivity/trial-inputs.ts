/** What the assumptions were in trials that have been run: worlds are drawn again, nothing is run. */
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';
import type { Simulation } from '../simulate/simulate.js';
import { DrawnWorlds, type WorldSource } from '../simulate/world.js';
import { doubtedAssumptions } from './doubted.js';
import { openScope, type DrivenFigure } from './figures.js';
import { firstOrderFromSample, type SampleEffects, type SampleOptions } from './given-data.js';

/** Values of some assumptions in the trials of a run, one column each, SI units. */
export function valuesInTrials(
  scenario: CompiledScenario,
  { firstTrial, trials, seed }: Simulation,
  indices: readonly number[],
  worlds: WorldSource = new DrawnWorlds(scenario),
): Float64Array[] {
  if (seed !== scenario.seed) {
    throw new UsageError(`the trials were run with seed "${seed}", the scenario has "${scenario.seed}"`);
  }
  const columns = indices.map(() => new Float64Array(trials));
  const world = new Float64Array(scenario.assumptions.length);
  for (let row = 0; row < trials; row++) {
    worlds.fill(firstTrial + row, world);
    indices.forEach((index, k) => (columns[k]![row] = world[index]!));
  }
  return columns;
}

/** Options of {@link firstOrderFromTrials}. */
export interface TrialEffectsOptions extends SampleOptions {
  readonly setup: string;
  readonly mix: string;
  readonly figure: DrivenFigure;
  /** Looks at the difference to this set-up instead of the figure itself. */
  readonly versus?: string | undefined;
  /** Places of assumptions; default: all in doubt. */
  readonly assumptions?: readonly string[] | undefined;
  /** Where the worlds of the run came from; default: drawn from the scenario. */
  readonly worlds?: WorldSource | undefined;
}

/** First-order effects of assumptions on a figure of trials. Plain data that can be stored as JSON. */
export interface TrialEffects extends SampleEffects {
  readonly kind: 'from trials';
  readonly setup: string;
  readonly versus: string | null;
  readonly mix: string;
  readonly figure: DrivenFigure;
  readonly unit: string;
}

/**
 * First-order effects of assumptions from trials that have been run: nothing is run again.
 *
 * The luck of landings is part of the variance, as in a run. What assumptions do only together is not seen here.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results, at least 100 trials.
 * @param options set-up, mix, figure.
 * @returns effects in the order of the scenario.
 * @throws UsageError for names that do not exist, a scenario with another seed, or too few trials.
 */
export function firstOrderFromTrials(
  scenario: CompiledScenario,
  simulation: Simulation,
  options: TrialEffectsOptions,
): TrialEffects {
  const { setup, mix, figure, versus } = options;
  const compared = versus === undefined ? [setup] : [setup, versus];
  const scope = openScope(scenario, { mix, setups: compared, figures: [figure] });
  const { read, unit } = scope.readers[0]!;
  const indices = doubtedAssumptions(scenario, options.assumptions);
  const [own, other] = compared.map((name) => read(trialsOf(simulation, name, mix)));
  const values = other === undefined ? own! : own!.map((value, row) => value - other[row]!);
  const inputs = valuesInTrials(scenario, simulation, indices, options.worlds).map((column, k) => ({
    name: scenario.assumptions[indices[k]!]!.path,
    values: column,
  }));
  return {
    kind: 'from trials',
    setup,
    versus: versus ?? null,
    mix,
    figure,
    unit,
    ...firstOrderFromSample(inputs, values, { seed: scenario.seed, ...options }),
  };
}

function trialsOf({ pairings }: Simulation, setup: string, mix: string): PairingTrials {
  const onMix = pairings.filter((trials) => trials.mix === mix);
  if (onMix.length === 0) throw new UsageError(`nothing was run on "${mix}"`);
  return onMix[
    indexOfName(
      'set-up in the run',
      setup,
      onMix.map((trials) => ({ name: trials.setup })),
    )
  ]!;
}
