/** The best set-up on a mix, and three questions about it that must be kept apart. */
import { DEFAULT_LEVEL, normalMultiplier } from '../estimate/interval.js';
import { differencesOf, meanWithInterval, pairedDifference } from '../estimate/paired.js';
import { wilsonForShare } from '../estimate/proportion.js';
import { meanEstimate, splitDoubt, type ThreeDoubts } from '../estimate/uncertainty.js';
import { UsageError, properShare } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import type { BestOptions, BestSetup, SetupStanding } from './best-types.js';
import { openContest, worldStandings, type Contest } from './contest.js';
import {
  CRITERIA,
  trialsOnMix,
  twinned,
  whatIsUnpriced,
  type Criterion,
  type MixTrials,
  type NotPriced,
} from './criteria.js';
import type { WorldStanding } from './in-worlds.js';
import { standOnAverage } from './on-average.js';
import { judge, type Rival } from './verdict.js';
import { winnersOf } from './winners.js';

export const DEFAULT_INDIFFERENCE_SHARE = 0.05;

/**
 * Finds the set-up with the best mean on a runway mix, and says how sure that is.
 *
 * Three questions are kept apart. Which set-up is best on average over all that is not known: only the error of the
 * simulation stands in the way. In what share of worlds it is best: that is ignorance; luck is taken out of the trials
 * by means of twins. In what share of trials it came out best: that is ignorance and luck.
 *
 * Flats enter the means as expected along each path, which changes no mean (see season-figures.ts); shares of trials
 * and hindsight count what happened. Lives count up to the horizon.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results: at least two set-ups on the mix.
 * @param mix name of the runway mix.
 * @param criterion one of CRITERIA.
 * @param options what matters, and where to ask for more.
 * @returns the answer, or what is missing for one in money.
 * @throws UsageError for names that do not exist and options out of range.
 */
export function bestSetup(
  scenario: CompiledScenario,
  simulation: Simulation,
  mix: string,
  criterion: Criterion,
  options: BestOptions = {},
): BestSetup | NotPriced {
  requireBestOptions(options, [criterion]);
  return bestOnMix(scenario, simulation.seed, trialsOnMix(scenario, simulation, mix), criterion, options);
}

/** The same for trials already taken from a simulation, with options that were checked. */
export function bestOnMix(
  scenario: CompiledScenario,
  seed: string,
  onMix: MixTrials,
  criterion: Criterion,
  options: BestOptions,
): BestSetup | NotPriced {
  const unpriced = criterion === 'costPerHour' ? whatIsUnpriced(scenario, onMix.setups) : null;
  if (unpriced !== null) return unpriced;
  const level = options.level ?? DEFAULT_LEVEL;
  const contest = openContest(scenario, onMix, criterion);
  const { unit, better, best } = contest;
  const worlds = worldStandings(contest, onMix, criterion, options.worldMeans);
  const setups = standings(seed, onMix, contest, level, worlds);
  const bestMean = setups[best]!.mean.estimate;
  const share = options.indifferenceShare ?? DEFAULT_INDIFFERENCE_SHARE;
  const indifference = options.indifference?.[criterion] ?? share * Math.abs(bestMean);
  return {
    priced: true,
    mix: onMix.mix,
    criterion,
    unit,
    better,
    trials: onMix.trials[best]!.rows,
    indifference,
    setups,
    doubtOfLead: doubtOfLead(contest),
    verdict: judge({
      mix: onMix.mix,
      criterion,
      unit,
      trials: onMix.trials[best]!.rows,
      best: setups[best]!.setup,
      rivals: rivalsOf(setups, contest, level),
      indifference,
      ignoranceRegret: setups[best]!.regret.ignorance?.estimate ?? null,
      shareOfWorldsBest: setups[best]!.shareOfWorldsBest?.estimate ?? null,
      whatToMeasure: options.whatToMeasure ?? (() => null),
    }),
  };
}

function standings(
  seed: string,
  onMix: MixTrials,
  { figures, gains, outcomes, ranks, best }: Contest,
  level: number,
  worlds: readonly WorldStanding[] | null,
): SetupStanding[] {
  const average = standOnAverage(gains, seed);
  const hindsight = winnersOf(outcomes);
  return onMix.setups.map((setup, index) => ({
    setup,
    rank: ranks[index]!,
    mean: meanWithInterval(figures[index]!, level),
    behindBest: index === best ? null : pairedDifference(gains[best]!, gains[index]!, level),
    chanceBestOnAverage: average.chanceBest[index]!,
    shareOfWorldsBest: worlds?.[index]!.shareBest ?? null,
    shareOfTrialsBest: wilsonForShare(hindsight.shares[index]!, onMix.trials[index]!.rows, level),
    regret: {
      numerical: average.expectedLoss[index]!,
      ignorance: worlds?.[index]!.regret ?? null,
      hindsight: meanEstimate(hindsight.best.map((value, row) => value - outcomes[index]![row]!)),
    },
  }));
}

function rivalsOf(setups: readonly SetupStanding[], { original }: Contest, level: number): Rival[] {
  const distinctRivals = Math.max(1, new Set(original).size - 1);
  const multiplier = normalMultiplier(1 - (1 - level) / distinctRivals);
  return setups.flatMap(({ setup, behindBest, shareOfWorldsBest }) =>
    behindBest === null
      ? []
      : [
          {
            setup,
            behind: Math.max(0, behindBest.estimate),
            reach: multiplier * behindBest.standardError,
            shareOfWorldsBest: shareOfWorldsBest?.estimate ?? null,
          },
        ],
  );
}

/** The three doubts about the difference between the best set-up and the next one that is no copy of it. */
function doubtOfLead({ figures, twinFigures, original, ranks, best }: Contest): ThreeDoubts | null {
  const others = Array.from(figures.keys()).filter((index) => original[index] !== original[best]);
  if (others.length === 0) return null;
  const next = others.reduce((nearest, index) => (ranks[index]! < ranks[nearest]! ? index : nearest));
  const lead = differencesOf(figures[best]!, figures[next]!);
  const twinLead = differencesOf(twinFigures[best]!, twinFigures[next]!);
  return splitDoubt(lead, twinned(lead, twinLead.length), twinLead);
}

/**
 * Checks options.
 *
 * @throws UsageError for one that is out of range.
 */
export function requireBestOptions(
  { level, indifferenceShare, indifference }: BestOptions,
  criteria: readonly Criterion[],
): void {
  for (const criterion of criteria) {
    if (CRITERIA.includes(criterion)) continue;
    throw new UsageError(`there is no criterion named "${criterion}"; there are: ${CRITERIA.join(', ')}`);
  }
  if (level !== undefined) properShare('level', level);
  if (indifferenceShare !== undefined && !(indifferenceShare >= 0 && indifferenceShare <= 1)) {
    throw new UsageError(`indifferenceShare is ${indifferenceShare}; it must be a share from 0 to 1`);
  }
  for (const [criterion, amount] of Object.entries(indifference ?? {})) {
    if (amount >= 0 && amount < Infinity) continue;
    throw new UsageError(`indifference.${criterion} is ${amount}; it must be a finite number of 0 or more`);
  }
}
