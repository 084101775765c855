/** Figures whose drivers are looked for. */
import { CRITERIA, figuresOf, whatIsUnpriced, type Criterion } from '../decide/criteria.js';
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';

/** Figures that a sensitivity study can look at: those of a comparison, and the chance of a flat in the season. */
export const DRIVEN_FIGURES = ['life', 'flatChance', 'flats', 'costPerHour', 'daysLost'] as const;
/** One of {@link DRIVEN_FIGURES}. */
export type DrivenFigure = (typeof DRIVEN_FIGURES)[number];

/** How a figure is read off trials. */
export interface FigureReader {
  readonly figure: DrivenFigure;
  readonly unit: string;
  readonly better: 'more' | 'less';
  /** One value per trial, flats as expected along each path: the mean with the least luck in it. */
  readonly read: (trials: PairingTrials) => Float64Array;
}

function readerOf(scenario: CompiledScenario, figure: DrivenFigure): FigureReader {
  if (figure === 'flatChance') {
    // The compensator of "at least one flat" has the chance as its mean (martingale.ts).
    return {
      figure,
      unit: 'chance in a season',
      better: 'less',
      read: ({ columns }) => columns.anyFlatHazard,
    };
  }
  const { unit, better, expected } = figuresOf(scenario, figure);
  return { figure, unit, better, read: expected };
}

/** What a study looks at: set-ups on a mix, and figures. */
export interface StudyScope {
  /** Name of the runway mix; default: the first of the file. */
  readonly mix?: string | undefined;
  /** Names of set-ups; default: all. */
  readonly setups?: readonly string[] | undefined;
  /** Figures; default: all that have prices. */
  readonly figures?: readonly DrivenFigure[] | undefined;
}

/** A scope with everything looked up. */
export interface OpenScope {
  readonly mix: string;
  readonly mixIndex: number;
  readonly setups: readonly string[];
  readonly setupIndices: readonly number[];
  readonly readers: readonly FigureReader[];
  /** Why money is left out; null if it is not. */
  readonly notPriced: string | null;
}

/**
 * Looks up names and prices.
 *
 * @throws UsageError for a name that does not exist or comes twice, an empty list, or money asked for without prices.
 */
export function openScope(scenario: CompiledScenario, scope: StudyScope): OpenScope {
  const mixIndex = scope.mix === undefined ? 0 : indexOfName('runway mix', scope.mix, scenario.mixes);
  const setups = scope.setups ?? scenario.setups.map(({ name }) => name);
  const setupIndices = setups.map((name) => indexOfName('set-up', name, scenario.setups));
  requireDifferent('setups', setups);
  if (scope.figures !== undefined) requireDifferent('figures', scope.figures);
  const unknown = scope.figures?.find((figure) => !DRIVEN_FIGURES.includes(figure));
  if (unknown !== undefined) {
    throw new UsageError(`there is no figure named "${unknown}"; there are: ${DRIVEN_FIGURES.join(', ')}`);
  }
  const notPriced = whatIsUnpriced(scenario, setups)?.needs ?? null;
  if (notPriced !== null && scope.figures?.includes('costPerHour') === true) throw new UsageError(notPriced);
  const figures =
    scope.figures ?? DRIVEN_FIGURES.filter((figure) => figure !== 'costPerHour' || notPriced === null);
  return {
    mix: scenario.mixes[mixIndex]!.name,
    mixIndex,
    setups,
    setupIndices,
    readers: figures.map((figure) => readerOf(scenario, figure)),
    notPriced,
  };
}

function requireDifferent(name: string, entries: readonly string[]): void {
  if (entries.length > 0 && new Set(entries).size === entries.length) return;
  throw new UsageError(`${name} must be a list of at least one, no two alike; found: ${entries.join(', ')}`);
}

/** True for a figure by which set-ups can be compared. */
export function isCriterion(figure: DrivenFigure): figure is DrivenFigure & Criterion {
  return (CRITERIA as readonly string[]).includes(figure);
}
