import { binomialCdf } from '../../lib/numeric/special.js';

/** What fit-coverage.json holds of one kind of logbook. */
export interface ShapeCoverage {
  readonly words: string;
  readonly seeds: string;
  readonly logs: number;
  readonly refused: readonly { readonly n: number; readonly refused: string; readonly why: string }[];
  readonly counts: Readonly<
    Record<string, { readonly logs: number; readonly held80: number; readonly held95: number }>
  >;
  readonly readingIntervals: Readonly<Record<string, { readonly held: number; readonly of: number }>>;
  readonly fits: readonly {
    readonly n: number;
    readonly digest: string;
    readonly records: readonly number[];
    readonly joint: string;
    readonly cells: string;
    readonly tenths: string;
  }[];
  readonly inFull: readonly {
    readonly n: number;
    /** Mean, standard deviation and effective size of the score, by path. */
    readonly assumptions: Readonly<Record<string, readonly number[]>>;
  }[];
}

/** Letters of the cells between the 19 quantiles of a fit, and which tenth of the posterior each lies in. */
const CELLS = 'abcdefghijklmnopqrst';
const TENTH_OF_CELL = [0, 0, 0, 0, 1, 1, 2, 2, 3, 4, 5, 6, 7, 7, 8, 8, 9, 9, 9, 9];

/** True where a cell lies inside the interval of a level. */
export function isInside(cell: string, level: 0.8 | 0.95): boolean {
  return level === 0.8 ? cell >= 'e' && cell <= 'p' : cell >= 'c' && cell <= 'r';
}

/** How often the truth lay in each tenth of the posterior. */
export function tenthsHeld(cells: readonly string[]): number[] {
  const counts = new Array<number>(10).fill(0);
  for (const cell of cells) counts[TENTH_OF_CELL[CELLS.indexOf(cell)]!]!++;
  return counts;
}

/** Chi-square distance of counts from even ones. */
export function unevenness(counts: readonly number[]): number {
  const expected = counts.reduce((sum, count) => sum + count, 0) / counts.length;
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
}

/** Cells of a path over all fits that hold it. */
export function cellsOf({ counts, fits }: ShapeCoverage, path: string): string[] {
  const k = Object.keys(counts).indexOf(path);
  return fits.map(({ cells }) => cells[k]!).filter((cell) => cell !== '.');
}

/** Chance of a count as far from what is expected as this one, two-sided: exact, by the tails of the binomial law. */
export function chanceOfCount(held: number, of: number, level: number): number {
  const below = binomialCdf(held, of, level);
  const above = held === 0 ? 1 : 1 - binomialCdf(held - 1, of, level);
  return Math.min(1, 2 * Math.min(below, above));
}

/**
 * Share of the intervals of all numbers that held the truth, and how many standard errors it is from the level: the numbers
 * of one log hang together, so that each log counts as one.
 *
 * @param learnedOnly only numbers whose score the records narrowed to half of the prior's spread or less.
 */
export function pooledShare(
  { fits }: ShapeCoverage,
  level: 0.8 | 0.95,
  learnedOnly: boolean,
): { readonly share: number; readonly of: number; readonly errors: number } {
  const offs: number[] = [];
  let held = 0;
  let of = 0;
  for (const { cells, tenths } of fits) {
    let off = 0;
    Array.from(cells).forEach((cell, k) => {
      if (cell === '.' || (learnedOnly && tenths[k]! >= '5')) return;
      const inside = isInside(cell, level) ? 1 : 0;
      held += inside;
      of++;
      off += inside - level;
    });
    offs.push(off);
  }
  const sum = offs.reduce((total, off) => total + off, 0);
  const squares = offs.reduce((total, off) => total + off * off, 0);
  return { share: held / of, of, errors: sum / Math.sqrt(squares) };
}
