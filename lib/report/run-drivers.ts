/** What the trials of a run tell of its drivers: nothing is lived through again. */
import { seasonFactor, usualCriterion, type Criterion } from '../decide/criteria.js';
import { DEFAULT_LEVEL } from '../estimate/interval.js';
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { choiceSafety, withPerfect } from '../sensitivity/choice-safety.js';
import { doubtedAssumptions } from '../sensitivity/doubted.js';
import type { DrivenFigure } from '../sensitivity/figures.js';
import { LEAST_SAMPLE } from '../sensitivity/given-data.js';
import { firstOrderFromTrials, type TrialEffects } from '../sensitivity/trial-inputs.js';
import { valueOfInformation } from '../sensitivity/value-of-information.js';
import type { ValueOfInformation } from '../sensitivity/voi-types.js';
import type { ChoiceSafety } from '../sensitivity/what-matters-types.js';
import type { Simulation } from '../simulate/simulate.js';
import { bearsOnRun } from './assumption-rows.js';

/** Mixes that are looked into; of the others only the choice is told. */
const MOST_MIXES = 3;

/** Figures of the chosen set-up whose drivers are told. */
const OWN_FIGURES = ['life', 'flatChance'] as const satisfies readonly DrivenFigure[];

/** What drives the figures on a mix, and the choice. */
export interface MixDrivers {
  readonly mix: string;
  /** The best on average, or the only set-up. */
  readonly setup: string;
  /** Of that set-up. */
  readonly figures: readonly TrialEffects[];
  /** The choice, what its lead hangs on, and what knowing is worth; null for a single set-up. */
  readonly choice: {
    readonly safety: ChoiceSafety;
    readonly lead: TrialEffects;
    readonly information: ValueOfInformation;
  } | null;
}

/** What drives a run. */
export interface RunDrivers {
  readonly criterion: Criterion;
  readonly trials: number;
  /** How safe the choice is on every mix with at least two set-ups. */
  readonly choices: readonly ChoiceSafety[];
  /** Those looked into, in the order of the run: where knowing more is worth most. */
  readonly mixes: readonly MixDrivers[];
}

/**
 * Looks for what drives the figures and the choice, from the trials of a run.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @throws UsageError with fewer than a hundred trials, or if nothing is in doubt.
 */
export function runDrivers(scenario: CompiledScenario, simulation: Simulation): RunDrivers {
  const { trials, pairings } = simulation;
  if (trials < LEAST_SAMPLE) {
    throw new UsageError(
      `${trials} ${trials === 1 ? 'trial is' : 'trials are'} too few to tell what matters; run at least ${LEAST_SAMPLE}`,
    );
  }
  const bears = bearsOnRun(scenario);
  const assumptions = doubtedAssumptions(scenario)
    .map((index) => scenario.assumptions[index]!.path)
    .filter(bears);
  if (assumptions.length === 0) throw new UsageError('no assumption that bears on the run is in doubt');
  const setups = [...new Set(pairings.map(({ setup }) => setup))];
  const criterion = usualCriterion(scenario, setups);
  const perSeason = seasonFactor(scenario, criterion);
  const mixes = [...new Set(pairings.map(({ mix }) => mix))];
  const setupsOn = (mix: string): string[] =>
    pairings.flatMap((pairing) => (pairing.mix === mix ? [pairing.setup] : []));
  const choices = mixes
    .filter((mix) => setupsOn(mix).length > 1)
    .map((mix) => choiceSafety(scenario, simulation, mix, criterion, perSeason, DEFAULT_LEVEL));
  const worth = (mix: string): number => choices.find((each) => each.mix === mix)?.perfect?.estimate ?? 0;
  const looked = [...mixes].sort((one, other) => worth(other) - worth(one)).slice(0, MOST_MIXES);
  const effects = (mix: string, setup: string, figure: DrivenFigure, versus?: string): TrialEffects =>
    firstOrderFromTrials(scenario, simulation, { mix, setup, figure, versus, assumptions });
  const found = mixes
    .filter((mix) => looked.includes(mix))
    .map((mix): MixDrivers => {
      const safety = choices.find((each) => each.mix === mix);
      const setup = safety?.best ?? setupsOn(mix)[0]!;
      const information =
        safety === undefined
          ? null
          : valueOfInformation(scenario, simulation, { mix, criterion, assumptions });
      return {
        mix,
        setup,
        figures: OWN_FIGURES.map((figure) => effects(mix, setup, figure)),
        choice:
          safety === undefined || information === null
            ? null
            : {
                safety: withPerfect(safety, information.perfect),
                lead: effects(mix, setup, criterion, safety.rival),
                information,
              },
      };
    });
  return {
    criterion,
    trials,
    choices: choices.map((each) => found.find(({ mix }) => mix === each.mix)?.choice?.safety ?? each),
    mixes: found,
  };
}

/**
 * The same, or why there is no answer.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 */
export function runDriversOrWhy(scenario: CompiledScenario, simulation: Simulation): RunDrivers | UsageError {
  try {
    return runDrivers(scenario, simulation);
  } catch (error) {
    if (error instanceof UsageError) return error;
    throw error;
  }
}
