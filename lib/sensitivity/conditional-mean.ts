/** Mean gain of each set-up given some assumptions, fitted to trials: the ground of values of information. */
import { inverseMatrix, timesVector } from '../calibrate/sampler-matrix.js';
import { standardNormalQuantile } from '../numeric/normal.js';

/** Trials are left out in so many groups, for errors and for choices that are judged by trials they were not made on. */
export const GROUPS = 20;
/** Trials for each coefficient of a fit. */
const TRIALS_PER_TERM = 10;
const MOST_DEGREE = 3;
/** Groups of more inputs get no products of two. */
const MOST_CROSSED = 12;

/**
 * Standard normal scores of values by rank, equal values sharing the score of their middle: so that nothing depends on
 * the scale of an assumption.
 */
export function normalScores(values: ArrayLike<number>): Float64Array {
  const rows = values.length;
  const order = Float64Array.from({ length: rows }, (_, row) => row).sort(
    (one, other) => values[one]! - values[other]! || one - other,
  );
  const scores = new Float64Array(rows);
  for (let from = 0; from < rows;) {
    let to = from + 1;
    while (to < rows && values[order[to]!] === values[order[from]!]) to++;
    const score = standardNormalQuantile((from + to) / 2 / rows);
    for (let rank = from; rank < to; rank++) scores[order[rank]!] = score;
    from = to;
  }
  return scores;
}

/** Hermite polynomials of a score, of mean square 1 for a normal score: degrees 1 to 3. */
export function hermite(score: number, degree: number): number {
  if (degree === 1) return score;
  if (degree === 2) return (score * score - 1) / Math.SQRT2;
  return (score * score * score - 3 * score) / Math.sqrt(6);
}

/** Columns of a fit beside the constant. */
export type Basis = readonly Float64Array[];

/**
 * Basis for one or several inputs: Hermite polynomials of each up to the third degree, and products of two, as far as
 * there are ten trials for each.
 *
 * @returns null where there are too few trials even for straight lines.
 */
export function basisOf(scores: readonly Float64Array[]): Basis | null {
  const rows = scores[0]!.length;
  const room = Math.floor(rows / TRIALS_PER_TERM) - 1;
  const crossed = (scores.length * (scores.length - 1)) / 2;
  const degree = Math.min(MOST_DEGREE, Math.floor(room / scores.length));
  if (degree < 1) return null;
  const powers = (most: number): Float64Array[] =>
    scores.flatMap((column) =>
      Array.from({ length: most }, (_, k) => column.map((score) => hermite(score, k + 1))),
    );
  const withProducts = scores.length > 1 && scores.length <= MOST_CROSSED;
  const degreeBeside = Math.min(MOST_DEGREE, Math.floor((room - crossed) / scores.length));
  if (!withProducts || degreeBeside < 1) return powers(degree);
  const products = scores.flatMap((one, k) =>
    scores.slice(k + 1).map((other) => one.map((score, row) => score * other[row]!)),
  );
  return [...powers(degreeBeside), ...products];
}

/** A fit of one column: constant first, then one coefficient per basis column. */
export interface Fitted {
  readonly coefficients: Float64Array;
  /** How far the fitted values are drawn towards their mean, 0 to 1, for the variance that chance adds to them. */
  readonly shrink: number;
  readonly mean: number;
}

/**
 * Least squares on a basis, also with each group of trials left out.
 *
 * Fitted values spread more than true means by the noise in the coefficients, and a choice by them would look better
 * than it is. So they are drawn towards their mean until their variance is what an unbiased estimate of it says.
 */
export class MeanFits {
  readonly basis: Basis;
  private readonly rows: number;
  private readonly size: number;
  /** Sums of products of basis columns, one matrix per group. */
  private readonly squares: readonly Float64Array[];
  private readonly inverses: readonly Float64Array[];

  constructor(basis: Basis) {
    this.basis = basis;
    this.rows = basis[0]!.length;
    this.size = basis.length + 1;
    this.squares = Array.from({ length: GROUPS }, () => new Float64Array(this.size * this.size));
    for (let row = 0; row < this.rows; row++) this.addSquares(row);
    this.inverses = Array.from({ length: GROUPS + 1 }, (_, leftOut) => {
      const whole = this.sumOf(this.squares, leftOut);
      return inverseMatrix(whole, this.size, 1e-9 * this.rows);
    });
  }

  /** Value of a basis column in a row; column 0 is the constant. */
  private at(column: number, row: number): number {
    return column === 0 ? 1 : this.basis[column - 1]![row]!;
  }

  private addSquares(row: number): void {
    const { size } = this;
    const target = this.squares[row % GROUPS]!;
    for (let i = 0; i < size; i++) {
      const value = this.at(i, row);
      for (let j = 0; j < size; j++) target[i * size + j]! += value * this.at(j, row);
    }
  }

  /** Sum over groups but one; none is left out at GROUPS. */
  private sumOf(parts: readonly Float64Array[], leftOut: number): Float64Array {
    const sum = new Float64Array(parts[0]!.length);
    parts.forEach((part, group) => {
      if (group !== leftOut) for (let i = 0; i < sum.length; i++) sum[i]! += part[i]!;
    });
    return sum;
  }

  /** Fits a column: one fit per group left out, and last that of all trials. */
  fit(column: Float64Array): Fitted[] {
    const { size, rows } = this;
    const products = Array.from({ length: GROUPS }, () => new Float64Array(size));
    const squares = new Float64Array(GROUPS);
    const counts = new Float64Array(GROUPS);
    for (let row = 0; row < rows; row++) {
      const group = row % GROUPS;
      for (let i = 0; i < size; i++) products[group]![i]! += this.at(i, row) * column[row]!;
      squares[group]! += column[row]! * column[row]!;
      counts[group]! += 1;
    }
    return Array.from({ length: GROUPS + 1 }, (_, leftOut): Fitted => {
      const product = this.sumOf(products, leftOut);
      const coefficients = timesVector(this.inverses[leftOut]!, product);
      const less = (parts: Float64Array): number =>
        parts.reduce((sum, part, group) => (group === leftOut ? sum : sum + part), 0);
      const count = less(counts);
      const mean = product[0]! / count;
      // Sum of squares that the fit explains about the mean, and what is left.
      let explained = 0;
      for (let i = 0; i < size; i++) explained += coefficients[i]! * product[i]!;
      const left = Math.max(0, less(squares) - explained);
      const about = explained - count * mean * mean;
      const chance = ((size - 1) * left) / Math.max(1, count - size);
      const shrink = about > chance ? Math.sqrt((about - chance) / about) : 0;
      return { coefficients, shrink, mean };
    });
  }

  /** Fitted mean in a row. */
  valueAt({ coefficients, shrink, mean }: Fitted, row: number): number {
    let value = coefficients[0]!;
    for (let i = 1; i < this.size; i++) value += coefficients[i]! * this.basis[i - 1]![row]!;
    return mean + shrink * (value - mean);
  }
}
