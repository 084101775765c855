import { limitsChart } from '../chart/limits.js';
import type { SeasonPressures } from '../decide/limit-types.js';
import { seasonPressures } from '../decide/season-pressures.js';
import { setupLimits } from '../decide/setup-limits.js';
import type { LimitsAnswer } from '../present/decision-types.js';
import { limitsTable } from '../present/limits-table.js';
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
  // All set-ups stay in the scenario, as figures are told over that of the stiffest.
  const setups =
    setup === undefined ? scenario.setups : [scenario.setups[indexOfName('set-up', setup, scenario.setups)]!];
  const mixes =
    mix === undefined ? scenario.mixes : [scenario.mixes[indexOfName('runway mix', mix, scenario.mixes)]!];
  const totalTrials = trials * setups.length * mixes.length;
  let before = 0;
  const pressures: [string, SeasonPressures][] = [];
  for (const { name } of setups) {
    const seasons: SeasonPressures[] = [];
    for (const { name: onMix } of mixes) {
      const done = before;
      seasons.push(
        await seasonPressures(scenario, {
          setup: name,
          mix: onMix,
          trials,
          signal: following.signal,
          onProgress: ({ finishedTrials }) => {
            following.onProgress({ finishedTrials: done + finishedTrials, totalTrials });
          },
        }),
      );
      before += trials;
    }
    pressures.push([name, widest(seasons)]);
  }
  const mixNames = mixes.map(({ name }) => name);
  const limits = setupLimits(scenario, { mixes: mixNames, seasonPressures: Object.fromEntries(pressures) });
  const wanted = new Set(setups.map(({ name }) => name));
  return {
    scenario: scenario.name,
    version: version(),
    seed: scenario.seed,
    trials,
    mixes: mixNames,
    setups: limits.filter((each) => wanted.has(each.setup)),
  };
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
