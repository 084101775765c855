/** The few inputs that the lead of a set-up hangs on. */
import type { Criterion } from '../decide/criteria.js';
import { scaled } from './choice-safety.js';
import type { InputIndices } from './index-types.js';
import { LANDING_LUCK, type FigureDrivers, type VarianceStudy } from './variance-types.js';
import type { OneAtATimeStudy, OneAssumption, RankingEffect } from './one-at-a-time-types.js';
import type { ChoiceThreshold } from './threshold-types.js';
import type { TrialEffects } from './trial-inputs.js';
import type { Decider } from './what-matters-types.js';

/** Assumptions that get an index of their own in the variance design; the rest are one group. */
export const SINGLE_INPUTS = 8;
/** Inputs that are told. */
export const MOST_DECIDERS = 3;
/** Name of the group of the rest. */
export const THE_REST = 'all others';

/** What the parts of the study have found so far. */
export interface Findings {
  readonly criterion: Criterion;
  readonly perSeason: number;
  readonly fromTrials: TrialEffects;
  readonly oneAtATime: OneAtATimeStudy | null;
  readonly variance: VarianceStudy | null;
  readonly thresholds: readonly ChoiceThreshold[];
}

/** Effect of an assumption on the lead that is watched; null for a single set-up. */
export function rankingBy({ rankings }: OneAssumption, criterion: Criterion): RankingEffect | null {
  return rankings.find((ranking) => ranking.criterion === criterion) ?? null;
}

/** Assumptions by how far they move the lead, most first; those that change nothing are left out. */
export function byLeadChange({ assumptions }: OneAtATimeStudy, criterion: Criterion): OneAssumption[] {
  const change = (each: OneAssumption): number =>
    Math.abs(rankingBy(each, criterion)?.leadChange.estimate ?? 0);
  return assumptions
    .filter((each) => change(each) > 0)
    .sort((one, other) => change(other) - change(one) || (one.path < other.path ? -1 : 1));
}

/** Assumptions, not fitted together with others, that get an index of their own. */
export function singleInputs(
  study: OneAtATimeStudy,
  criterion: Criterion,
  tied: readonly string[],
): string[] {
  return byLeadChange(study, criterion)
    .map(({ path }) => path)
    .filter((path) => !tied.includes(path))
    .slice(0, SINGLE_INPUTS);
}

/** Drivers of the lead; null if that part is not finished. */
export function leadDrivers(variance: VarianceStudy | null, criterion: Criterion): FigureDrivers | null {
  return variance?.figures.find(({ figure, versus }) => figure === criterion && versus !== null) ?? null;
}

/**
 * The inputs that the lead hangs on, most important first: those told to matter by the lower end of the total index, the
 * others by how far each moves the lead; before that is known by first-order effect in the common run. Inputs too small
 * to see are left out.
 */
export function decidersOf(findings: Findings): Decider[] {
  const { criterion, oneAtATime, variance } = findings;
  const drivers = leadDrivers(variance, criterion);
  if (drivers !== null) {
    const surely = ({ total, verdict }: InputIndices): number =>
      verdict.kind === 'matters' ? total.lower : 0;
    const moved = oneAtATime === null ? [] : byLeadChange(oneAtATime, criterion);
    const change = (input: string): number => {
      const { paths } = variance!.inputs.find(({ name }) => name === input)!;
      const most = moved.find(({ path }) => paths.includes(path));
      return most === undefined ? 0 : Math.abs(rankingBy(most, criterion)!.leadChange.estimate);
    };
    return (
      drivers.indices.inputs
        .filter(({ input }) => input !== LANDING_LUCK && input !== THE_REST)
        .filter(({ total, verdict }) => total.estimate > 0 && verdict.kind !== 'too small to see')
        // Those told to matter first, by what is surely theirs: a few wild trials can make any estimate large, but not its
        // lower end. What is not told by that is ordered by how far it moves the lead.
        .sort(
          (one, other) =>
            surely(other) - surely(one) ||
            change(other.input) - change(one.input) ||
            other.total.estimate - one.total.estimate,
        )
        .slice(0, MOST_DECIDERS)
        .map(({ input, total, verdict }) => ({
          ...describe(findings, input, variance!.inputs.find(({ name }) => name === input)!.paths),
          share: total,
          verdict,
        }))
    );
  }
  const paths =
    oneAtATime !== null
      ? byLeadChange(oneAtATime, criterion).map(({ path }) => path)
      : findings.fromTrials.effects
          .filter(({ firstOrder }) => firstOrder.lower > 0)
          .sort((one, other) => other.firstOrder.estimate - one.firstOrder.estimate)
          .map(({ input }) => input);
  return paths
    .slice(0, MOST_DECIDERS)
    .map((path) => ({ ...describe(findings, path, [path]), share: null, verdict: null }));
}

function describe(
  { criterion, perSeason, oneAtATime, thresholds }: Findings,
  input: string,
  paths: readonly string[],
): Omit<Decider, 'share' | 'verdict'> {
  const moved = oneAtATime?.assumptions.find(({ path }) => path === input);
  const ranking = moved === undefined ? null : rankingBy(moved, criterion);
  const threshold = thresholds.find(({ assumption }) => paths.includes(assumption));
  return {
    input,
    paths,
    swing:
      moved === undefined || ranking === null
        ? null
        : {
            lowSi: moved.lowSi,
            highSi: moved.highSi,
            atLow: scaled(ranking.leadAtLow, perSeason),
            atHigh: scaled(ranking.leadAtHigh, perSeason),
            change: scaled(ranking.leadChange, perSeason),
          },
    threshold: threshold === undefined ? null : { assumption: threshold.assumption, flips: threshold.flips },
  };
}
