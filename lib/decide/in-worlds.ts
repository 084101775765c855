/** In what share of worlds a set-up is best, luck taken out. */
import { mean } from '../estimate/moments.js';
import type { Estimate } from '../estimate/shares.js';
import { LEAST_PAIRS, meanEstimate } from '../estimate/uncertainty.js';
import { fitLuckFilter, type LuckFilter } from '../estimate/world-means.js';
import { TWIN_EVERY } from '../simulate/simulate.js';
import { winnersOf } from './winners.js';

/** What not knowing the world costs those who choose one set-up for all worlds. */
export interface IgnoranceRegret extends Estimate {
  /**
   * Without a model: what choosing by a first life, world by world, wins in the second life of the same world. No way
   * of choosing wins more on average than knowing the world would, so this is a lower bound.
   */
  readonly atLeast: Estimate | null;
  /** Without a model: by the best of the two lives' means, which holds luck too, so this is an upper bound. */
  readonly atMost: Estimate | null;
}

/** A set-up among the worlds. */
export interface WorldStanding {
  /** Share of worlds in which its mean is the best. */
  readonly shareBest: Estimate;
  readonly regret: IgnoranceRegret;
}

/** More worlds would take longer and tell no more than a tenth of a per cent. */
const MOST_TRIALS = 40_000;
const JACKKNIFE_GROUPS = 20;
/** Differences below this share of the figures are rounding. */
const ROUNDING = 1e-12;

/** Figures of several set-ups, one column each. */
type Columns = readonly Float64Array[];

/** Figures of a contest among worlds. */
interface Field {
  readonly lives: Columns;
  readonly twins: Columns;
  /** 1 where more is better, -1 where less is. */
  readonly sign: number;
  /** Index of the set-up with the best mean. */
  readonly best: number;
}

/**
 * Tells in what share of worlds each set-up has the best mean, and what is lost by choosing it in all of them.
 *
 * A single trial is no judge of its world: luck decides too. The luck is taken out of the difference between each
 * set-up and the one that is best on average by filters fitted to twins (see fitLuckFilter); standard errors are those
 * of leaving out a twentieth of the worlds at a time (jackknife), the fit included.
 *
 * @param columns figures, one column per set-up, no two of them equal, one row per trial.
 * @param twins the same of the twins; row k is the twin of row 4 k.
 * @param sign 1 where more is better, -1 where less is.
 * @param best index of the set-up with the best mean.
 * @returns null with too few twins.
 */
export function standInWorlds(
  columns: Columns,
  twins: Columns,
  sign: number,
  best: number,
): WorldStanding[] | null {
  const rows = Math.min(columns[0]!.length, MOST_TRIALS);
  const pairs = Math.min(twins[0]!.length, Math.ceil(rows / TWIN_EVERY));
  if (pairs < LEAST_PAIRS) return null;
  const field: Field = {
    lives: columns.map((column) => column.subarray(0, rows)),
    twins: twins.map((column) => column.subarray(0, pairs)),
    sign,
    best,
  };
  const whole = estimate(field);
  const groupOf = (pair: number): number => Math.floor((pair * JACKKNIFE_GROUPS) / pairs);
  const parts = Array.from({ length: JACKKNIFE_GROUPS }, (_, group) =>
    estimate({
      ...field,
      lives: field.lives.map((column) =>
        column.filter((__, row) => groupOf(Math.floor(row / TWIN_EVERY)) !== group),
      ),
      twins: field.twins.map((column) => column.filter((__, pair) => groupOf(pair) !== group)),
    }),
  );
  const bounds = regretBounds(field);
  return columns.map((_, setup) => {
    const share = whole.shares[setup]!;
    const shareError = jackknifeError(parts.map(({ shares }) => shares[setup]!));
    return {
      shareBest: { estimate: share, standardError: Math.max(shareError, countError(share, rows)) },
      regret: {
        estimate: whole.regrets[setup]!,
        standardError: jackknifeError(parts.map(({ regrets }) => regrets[setup]!)),
        ...bounds[setup]!,
      },
    };
  });
}

/**
 * The same from means of worlds that are known, for example from a fitted model of the figures.
 *
 * @param means one column per set-up, one row per world.
 * @param sign 1 where more is better, -1 where less is.
 */
export function standInKnownWorlds(means: Columns, sign: number): WorldStanding[] {
  const rows = means[0]!.length;
  const gains = turned(means, sign);
  const { best, shares } = winnersOf(gains);
  return gains.map((column, setup) => ({
    shareBest: { estimate: shares[setup]!, standardError: countError(shares[setup]!, rows) },
    regret: { ...meanEstimate(best.map((value, row) => value - column[row]!)), atLeast: null, atMost: null },
  }));
}

interface Figures {
  readonly shares: readonly number[];
  readonly regrets: readonly number[];
}

function estimate(field: Field): Figures {
  const { lives, sign, best } = field;
  const filters = filtersOf(field);
  // Gains over the best on average, whose own is 0.
  const gains = turned(
    lives.map((column, setup) => filters[setup]!.worlds(column, lives[best]!)),
    sign,
  );
  const { best: top, shares } = winnersOf(gains, ROUNDING * mean(lives[best]!.map(Math.abs)));
  const regretOfBest = mean(top);
  return {
    shares,
    regrets: lives.map((column) => regretOfBest + sign * (mean(lives[best]!) - mean(column))),
  };
}

/** Bounds on the regret that rest on twins alone. */
function regretBounds(field: Field): readonly Pick<IgnoranceRegret, 'atLeast' | 'atMost'>[] {
  const { lives, twins, sign, best } = field;
  const pairs = twins[0]!.length;
  const first = firstLives(lives, pairs);
  const filters = filtersOf(field);
  const chosenBy = (figures: Columns): Int32Array => {
    const guesses = turned(
      figures.map((column, setup) => filters[setup]!.guesses(column, figures[best]!)),
      sign,
    );
    return Int32Array.from({ length: pairs }, (_, row) =>
      guesses.reduce(
        (leader, column, setup) => (column[row]! > guesses[leader]![row]! ? setup : leader),
        best,
      ),
    );
  };
  const byFirst = chosenBy(first);
  const byTwin = chosenBy(twins);
  const gains = turned(first, sign);
  const twinGains = turned(twins, sign);
  const averages = gains.map((column, setup) =>
    column.map((value, row) => (value + twinGains[setup]![row]!) / 2),
  );
  const { best: top } = winnersOf(averages);
  return averages.map((own) => ({
    atLeast: meanEstimate(
      own.map((value, row) => (twinGains[byFirst[row]!]![row]! + gains[byTwin[row]!]![row]!) / 2 - value),
    ),
    atMost: meanEstimate(own.map((value, row) => top[row]! - value)),
  }));
}

/** A filter for the difference between each set-up and the best one. */
function filtersOf({ lives, twins, best }: Field): LuckFilter[] {
  const first = firstLives(lives, twins[0]!.length);
  const twice = lives.map((column, setup) => ({ lives: column, first: first[setup]!, twin: twins[setup]! }));
  return twice.map((own) => fitLuckFilter(own, twice[best]!));
}

function turned(columns: Columns, sign: number): Float64Array[] {
  return columns.map((column) => column.map((value) => sign * value));
}

function firstLives(lives: Columns, pairs: number): Float64Array[] {
  return lives.map((column) => Float64Array.from({ length: pairs }, (_, pair) => column[TWIN_EVERY * pair]!));
}

function jackknifeError(parts: readonly number[]): number {
  const centre = mean(parts);
  const squares = parts.reduce((sum, part) => sum + (part - centre) * (part - centre), 0);
  return Math.sqrt(((parts.length - 1) / parts.length) * squares);
}

/** Error of a share of independent rows; a share of 0 or 1 counts as half a row away from it. */
function countError(share: number, rows: number): number {
  const inside = (share * rows + 0.5) / (rows + 1);
  return Math.sqrt((inside * (1 - inside)) / rows);
}
