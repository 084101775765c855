import { Figures } from './likelihood-figures.js';
import {
  choleskyFactor,
  eigenParts,
  identityMatrix,
  inverseMatrix,
  timesVector,
  type EigenParts,
  type SquareMatrix,
} from './sampler-matrix.js';

/**
 * Logarithm of a posterior density up to a constant.
 *
 * @param figures receives what the data tell, if wanted; a density that has nothing to say there is taken by itself.
 */
export type LogDensity = (scores: Float64Array, figures?: Figures) => number;

/** Called often: lets others work now and then, and throws when the work is to stop. */
export type Breath = () => Promise<void>;

/** A normal law: z = mean + factor u with u standard normal. */
export interface NormalReference {
  readonly mean: Float64Array;
  /** Square root of the covariance: covariance = factor factor'. */
  readonly factor: SquareMatrix;
}

/** The normal law that touches a density at its mode, and how the mode was found. */
export interface LaplaceFit extends NormalReference {
  readonly logDensity: number;
  /** False where the search ended before the slope was small; the sampler copes with a poor start. */
  readonly converged: boolean;
}

const GRADIENT_STEP = 1e-4;
/** Slope at which the mode is found: so small a share of a standard deviation is far below what matters. */
const SMALL_SLOPE = 0.02;
/** No score is moved further at a time: values may be cut off at the bounds of a field, and a leap lands there. */
const LONGEST_STEP = 1;
const MOST_STEPS = 120;
const MOST_HALVINGS = 30;
/** Step of the second differences, in standard deviations. */
const CURVATURE_STEP = 0.3;
const MOST_PASSES = 4;
/** Steps within a factor of two of the standard deviation do for second differences. */
const FITTING_SCALE = 4;
/** Information beyond that of the prior from which on an axis counts as told. */
const LEAST_TOLD = 0.05;
/** Least curvature per unit of the scale found so far: a flatter direction is cut off there, the sampler widens it. */
const LEAST_CURVATURE = 0.05;

/** Slope of a density, and the information of its figures with that of the prior: the curvature as it is expected. */
interface Slopes {
  readonly slope: Float64Array;
  /** Null where there are no figures. */
  readonly information: SquareMatrix | null;
}

async function slopesAt(density: LogDensity, at: Float64Array, breath: Breath): Promise<Slopes> {
  const size = at.length;
  const figures = new Figures();
  density(at, figures);
  const variances = figures.variances();
  const point = Float64Array.from(at);
  const slope = new Float64Array(size);
  const rows: Float64Array[] = [];
  for (let i = 0; i < size; i++) {
    await breath();
    point[i] = at[i]! + GRADIENT_STEP;
    const above = density(point, figures);
    const row = figures.values();
    point[i] = at[i]! - GRADIENT_STEP;
    const below = density(point, figures);
    const other = figures.values();
    point[i] = at[i]!;
    slope[i] = (above - below) / (2 * GRADIENT_STEP);
    for (let k = 0; k < row.length; k++) row[k] = (row[k]! - other[k]!) / (2 * GRADIENT_STEP);
    rows.push(row);
  }
  return { slope, information: variances.length === 0 ? null : informationOf(rows, variances) };
}

/** Fisher's information of figures with these slopes, and of the standard normal prior. */
function informationOf(slopes: readonly Float64Array[], variances: Float64Array): SquareMatrix {
  const size = slopes.length;
  const matrix = identityMatrix(size);
  for (let i = 0; i < size; i++) {
    const scaled = slopes[i]!.map((each, k) => each / variances[k]!);
    for (let j = 0; j <= i; j++) {
      const sum = dot(scaled, slopes[j]!);
      matrix[i * size + j]! += sum;
      if (j !== i) matrix[j * size + i]! += sum;
    }
  }
  return matrix;
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i]! * other[i]!;
  return sum;
}

/** A summit of a density. */
export interface Summit {
  readonly at: Float64Array;
  readonly value: number;
  /** Inverse of the curvature as found on the way. */
  readonly inverse: SquareMatrix;
  readonly converged: boolean;
}

/**
 * Climbs from a start by Fisher's scoring where there are figures, else by the method of Broyden, Fletcher, Goldfarb and
 * Shanno (1970); both from memory.
 *
 * @param density its logarithm, finite at the start.
 * @param breath called often.
 * @param known true near summits that are known already: the climb then ends there.
 */
export async function climb(
  density: LogDensity,
  start: Float64Array,
  breath: Breath,
  known: (at: Float64Array) => boolean = () => false,
): Promise<Summit> {
  const size = start.length;
  const inverseOf = ({ information }: Slopes): SquareMatrix =>
    information === null ? identityMatrix(size) : inverseMatrix(information, size);
  let at = Float64Array.from(start);
  let value = density(at);
  let slopes = await slopesAt(density, at, breath);
  let inverse = inverseOf(slopes);
  let fresh = true;
  for (let step = 0; step < MOST_STEPS; step++) {
    if (known(at)) return { at, value, inverse, converged: false };
    const { slope, information } = slopes;
    let direction = timesVector(inverse, slope);
    let rise = dot(direction, slope);
    if (!(rise > 0)) {
      inverse = identityMatrix(size);
      direction = Float64Array.from(slope);
      rise = dot(slope, slope);
      fresh = true;
    }
    // Newton's decrement: twice the height still to climb if the density were normal.
    if (Math.sqrt(rise) < SMALL_SLOPE) return { at, value, inverse, converged: true };
    const careful = fresh && information === null;
    const furthest = direction.reduce((most, each) => Math.max(most, Math.abs(each)), 0);
    let length = Math.min(1, (careful ? 1 : LONGEST_STEP) / furthest);
    let next = at;
    let nextValue = -Infinity;
    for (let halving = 0; halving < MOST_HALVINGS; halving++, length *= 0.4) {
      const scaled = length;
      next = at.map((each, i) => each + scaled * direction[i]!);
      nextValue = density(next);
      if (nextValue > value + 1e-4 * length * rise) break;
    }
    if (!(nextValue > value)) {
      if (fresh) return { at, value, inverse, converged: Math.sqrt(rise) < 0.1 };
      inverse = identityMatrix(size);
      fresh = true;
      continue;
    }
    const nextSlopes = await slopesAt(density, next, breath);
    if (nextSlopes.information !== null) inverse = inverseOf(nextSlopes);
    else {
      const move = next.map((each, i) => each - at[i]!);
      const turn = nextSlopes.slope.map((each, i) => slope[i]! - each);
      const curvature = dot(move, turn);
      if (curvature > 1e-10) {
        inverse = updateInverse(inverse, move, turn, curvature);
        fresh = false;
      }
    }
    at = next;
    value = nextValue;
    slopes = nextSlopes;
  }
  return { at, value, inverse, converged: false };
}

function updateInverse(
  inverse: SquareMatrix,
  move: Float64Array,
  turn: Float64Array,
  curvature: number,
): SquareMatrix {
  const size = move.length;
  const turned = timesVector(inverse, turn);
  const factor = (1 + dot(turn, turned) / curvature) / curvature;
  const next = Float64Array.from(inverse);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      next[i * size + j]! +=
        factor * move[i]! * move[j]! - (turned[i]! * move[j]! + move[i]! * turned[j]!) / curvature;
    }
  }
  return next;
}

/** Negative second derivatives along the first columns of a factor, by central differences. */
async function curvatures(
  density: LogDensity,
  { at: mean, value }: Summit,
  factor: SquareMatrix,
  told: number,
  breath: Breath,
): Promise<SquareMatrix> {
  const size = mean.length;
  const h = CURVATURE_STEP;
  const at = (i: number, si: number, j: number, sj: number): number =>
    density(
      mean.map((each, row) => each + h * (si * factor[row * size + i]! + sj * factor[row * size + j]!)),
    );
  const matrix = new Float64Array(told * told);
  for (let i = 0; i < told; i++) {
    matrix[i * told + i] = (2 * value - at(i, 1, i, 0) - at(i, -1, i, 0)) / (h * h);
    for (let j = 0; j < i; j++) {
      await breath();
      const mixed = (at(i, 1, j, -1) + at(i, -1, j, 1) - at(i, 1, j, 1) - at(i, -1, j, -1)) / (4 * h * h);
      matrix[i * told + j] = mixed;
      matrix[j * told + i] = mixed;
    }
  }
  return matrix;
}

/** Square root of the inverse of a symmetric matrix, small and negative curvatures raised to a floor. */
function inverseRoot({ values, vectors }: EigenParts): SquareMatrix {
  const size = values.length;
  const root = new Float64Array(size * size);
  for (let k = 0; k < size; k++) {
    const weight = 1 / Math.sqrt(Math.max(values[k]!, LEAST_CURVATURE));
    for (let i = 0; i < size; i++) root[i * size + k] = weight * vectors[k * size + i]!;
  }
  return root;
}

/** A factor whose first columns are replaced by combinations of theirs. */
function turnedColumns(factor: SquareMatrix, size: number, turn: SquareMatrix, told: number): SquareMatrix {
  const turned = Float64Array.from(factor);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < told; j++) {
      let sum = 0;
      for (let k = 0; k < told; k++) sum += factor[i * size + k]! * turn[k * told + j]!;
      turned[i * size + j] = sum;
    }
  }
  return turned;
}

/**
 * The normal law that has the same curvature as a density at a summit (Laplace's approximation).
 *
 * Where the density has figures, their information tells along which axes the curvature must be measured at all; else it
 * is measured along all.
 *
 * @param density its logarithm.
 * @param best the summit, from `climb`.
 * @param breath called often.
 */
export async function laplaceFit(density: LogDensity, best: Summit, breath: Breath): Promise<LaplaceFit> {
  const size = best.at.length;
  let told = size;
  // The scale found on the way up makes the steps of the second differences fit each direction; again while it is off.
  let factor = choleskyFactor(best.inverse, size) ?? identityMatrix(size);
  const { information } = await slopesAt(density, best.at, breath);
  if (information !== null) {
    const parts = eigenParts(information, size);
    factor = inverseRoot(parts);
    told = parts.values.filter((value) => value > 1 + LEAST_TOLD).length;
  }
  for (let pass = 0; pass < MOST_PASSES && told > 0; pass++) {
    const parts = eigenParts(await curvatures(density, best, factor, told, breath), told);
    factor = turnedColumns(factor, size, inverseRoot(parts), told);
    if (parts.values[told - 1]! > 1 / FITTING_SCALE && parts.values[0]! < FITTING_SCALE) break;
  }
  return { mean: best.at, factor, logDensity: best.value, converged: best.converged };
}
