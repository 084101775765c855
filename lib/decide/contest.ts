/** The figures of a comparison. */
import { mean } from '../estimate/moments.js';
import type { Estimate } from '../estimate/shares.js';
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { BestOptions } from './best-types.js';
import { figuresOf, type Criterion, type MixTrials } from './criteria.js';
import { standInKnownWorlds, standInWorlds, type WorldStanding } from './in-worlds.js';
import { equalColumns, firstEquals } from './winners.js';

/** Figures of all set-ups on a mix by one criterion, one column each. */
export interface Contest {
  readonly unit: string;
  readonly better: 'more' | 'less';
  /** 1 where more is better, else -1: figure = sign x gain. */
  readonly sign: number;
  /** Figures with flats as expected along each path. */
  readonly figures: readonly Float64Array[];
  readonly twinFigures: readonly Float64Array[];
  /** The same, turned so that more is better. */
  readonly gains: readonly Float64Array[];
  /** As it happened, turned likewise. */
  readonly outcomes: readonly Float64Array[];
  /** For each set-up, the first one with the same figures throughout: itself, or the one it is a copy of. */
  readonly original: readonly number[];
  /** Rank of each by its mean, 1 the best, from paired differences, so that a copy ties exactly. */
  readonly ranks: readonly number[];
  /** Index of the best mean, the first one of copies. */
  readonly best: number;
}

/** Gathers the figures. */
export function openContest(scenario: CompiledScenario, onMix: MixTrials, criterion: Criterion): Contest {
  const { unit, better, expected, happened } = figuresOf(scenario, criterion);
  const sign = better === 'more' ? 1 : -1;
  const turned = (column: Float64Array): Float64Array => column.map((value) => sign * value);
  const figures = onMix.trials.map(expected);
  const twinFigures = onMix.twins.map(expected);
  const gains = figures.map(turned);
  const leads = (other: Float64Array, own: Float64Array): boolean =>
    mean(other.map((value, row) => value - own[row]!)) > 0;
  const ranks = gains.map((own) => 1 + gains.filter((other) => leads(other, own)).length);
  return {
    unit,
    better,
    sign,
    figures,
    twinFigures,
    gains,
    outcomes: onMix.trials.map((trials) => turned(happened(trials))),
    original: firstEquals(
      gains.length,
      (a, b) => equalColumns(figures[a]!, figures[b]!) && equalColumns(twinFigures[a]!, twinFigures[b]!),
    ),
    ranks,
    best: ranks.indexOf(Math.min(...ranks)),
  };
}

/**
 * Standing of each set-up among the worlds; copies share what their original has.
 *
 * @returns null with too few twins and no means of worlds given.
 */
export function worldStandings(
  contest: Contest,
  onMix: MixTrials,
  criterion: Criterion,
  worldMeans: BestOptions['worldMeans'],
): WorldStanding[] | null {
  const { original, figures, twinFigures, sign, best } = contest;
  const { mix, setups } = onMix;
  const known = worldMeans?.({ mix, criterion, setups }) ?? null;
  if (
    known !== null &&
    (known.length !== setups.length || known.some(({ length }) => length !== known[0]!.length))
  ) {
    throw new UsageError(`worldMeans must give ${setups.length} equally long columns, one per set-up`);
  }
  const kept = [...new Set(original)];
  const only = (columns: readonly Float64Array[]): Float64Array[] => kept.map((index) => columns[index]!);
  const standings =
    known === null
      ? standInWorlds(only(figures), only(twinFigures), sign, kept.indexOf(original[best]!))
      : standInKnownWorlds(only(known), sign);
  if (standings === null) return null;
  return original.map((index) => {
    const { shareBest, regret } = standings[kept.indexOf(index)]!;
    return { shareBest: shared(shareBest, original.filter((other) => other === index).length), regret };
  });
}

function shared({ estimate, standardError }: Estimate, parts: number): Estimate {
  return { estimate: estimate / parts, standardError: standardError / parts };
}
