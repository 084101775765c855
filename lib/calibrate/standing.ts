import { isOfRecords } from './fit-names.js';
import type { FittedAssumption, LearningVerdict } from './posterior-types.js';

/** Mean of the score, in standard deviations of what the scenario held, from which a number counts as moved. Convention. */
export const MOVED_SCORE = 1;

/**
 * Mean of the score beyond which the scenario held a number for implausible, either way: a chance of 1 in 160 on each
 * side. Convention.
 */
export const IMPLAUSIBLE_SCORE = 2.5;

/** Where a number stands after the records: how far it was narrowed, or that it moved without being narrowed. */
export type Standing = LearningVerdict | 'moved, not narrowed';

/** All standings, the most learned first. */
export const STANDINGS: readonly Standing[] = [
  'learned',
  'barely learned',
  'moved, not narrowed',
  'not identified',
];

/**
 * True where the records moved a number by at least a standard deviation of what the scenario held, whatever its spread.
 *
 * @param assumption of a fit.
 */
export function hasMoved({ scoreMean }: Pick<FittedAssumption, 'scoreMean'>): boolean {
  return Math.abs(scoreMean) >= MOVED_SCORE;
}

/**
 * Where a number stands: one that is not narrowed but moved is no longer what was assumed.
 *
 * @param assumption of a fit.
 */
export function standingOf(assumption: Pick<FittedAssumption, 'scoreMean' | 'verdict'>): Standing {
  const { verdict } = assumption;
  return verdict === 'not identified' && hasMoved(assumption) ? 'moved, not narrowed' : verdict;
}

/**
 * The standing in a word or two: "barely learned, moved".
 *
 * @param assumption of a fit.
 */
export function standingText(assumption: Pick<FittedAssumption, 'scoreMean' | 'verdict'>): string {
  const standing = standingOf(assumption);
  return hasMoved(assumption) && standing !== 'moved, not narrowed' ? `${standing}, moved` : standing;
}

/** What a fit counts: assumptions of the scenario by standing, and numbers that belong to the records apart. */
export interface StandingCounts {
  readonly byStanding: Readonly<Record<Standing, number>>;
  /** Assumptions of the scenario that the records bear on. */
  readonly assumptions: number;
  /** Errors of readings, which no scenario has. */
  readonly ofRecords: number;
}

/**
 * Counts the numbers of a fit. Whatever counts them, in text, chart or page, counts them by this.
 *
 * @param fitted the numbers of a fit.
 */
export function countStandings(fitted: readonly FittedAssumption[]): StandingCounts {
  const own = fitted.filter(({ path }) => !isOfRecords(path));
  const count = (standing: Standing): number => own.filter((each) => standingOf(each) === standing).length;
  return {
    byStanding: {
      learned: count('learned'),
      'barely learned': count('barely learned'),
      'moved, not narrowed': count('moved, not narrowed'),
      'not identified': count('not identified'),
    },
    assumptions: own.length,
    ofRecords: fitted.length - own.length,
  };
}

/**
 * The numbers that are fitted beside the assumptions: "2 error sizes of the readings".
 *
 * @param count how many.
 */
export function errorSizesText(count: number): string {
  return `${count} error ${count === 1 ? 'size' : 'sizes'} of the readings`;
}
