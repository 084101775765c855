import {
  choleskyFactor,
  eigenParts,
  identityMatrix,
  timesMatrix,
  timesVector,
  type EigenParts,
  type SquareMatrix,
} from './sampler-matrix.js';

/** Logarithm of a posterior density up to a constant. */
export type LogDensity = (scores: Float64Array) => number;

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
/** Slope at which the mode is found: a hundredth of a standard deviation is far below what matters. */
const SMALL_SLOPE = 1e-3;
const MOST_STEPS = 120;
const MOST_HALVINGS = 30;
/** Step of the second differences, in standard deviations. */
const CURVATURE_STEP = 0.3;
const MOST_PASSES = 4;
/** Steps within a factor of two of the standard deviation do for second differences. */
const FITTING_SCALE = 4;
/** Least curvature per unit of the scale found so far: a flatter direction is cut off there, the sampler widens it. */
const LEAST_CURVATURE = 0.05;

function gradient(density: LogDensity, at: Float64Array): Float64Array {
  const point = Float64Array.from(at);
  return Float64Array.from(at, (value, i) => {
    point[i] = value + GRADIENT_STEP;
    const above = density(point);
    point[i] = value - GRADIENT_STEP;
    const below = density(point);
    point[i] = value;
    return (above - below) / (2 * GRADIENT_STEP);
  });
}

function dot(one: Float64Array, other: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < one.length; i++) sum += one[i]! * other[i]!;
  return sum;
}

/** Climbs from a start by the method of Broyden, Fletcher, Goldfarb and Shanno (1970), from memory. */
function climb(
  density: LogDensity,
  start: Float64Array,
): { at: Float64Array; value: number; inverse: SquareMatrix; converged: boolean } {
  const size = start.length;
  let at = Float64Array.from(start);
  let value = density(at);
  let slope = gradient(density, at);
  let inverse = identityMatrix(size);
  let fresh = true;
  for (let step = 0; step < MOST_STEPS; step++) {
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
    let length = fresh ? Math.min(1, 1 / Math.sqrt(dot(direction, direction))) : 1;
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
    const nextSlope = gradient(density, next);
    const move = next.map((each, i) => each - at[i]!);
    const turn = nextSlope.map((each, i) => slope[i]! - each);
    const curvature = dot(move, turn);
    if (curvature > 1e-10) {
      inverse = updateInverse(inverse, move, turn, curvature);
      fresh = false;
    }
    at = next;
    value = nextValue;
    slope = nextSlope;
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

/** Negative second derivatives along the columns of a factor, by central differences. */
function curvatures(
  density: LogDensity,
  mean: Float64Array,
  value: number,
  factor: SquareMatrix,
): SquareMatrix {
  const size = mean.length;
  const h = CURVATURE_STEP;
  const at = (i: number, si: number, j: number, sj: number): number =>
    density(
      mean.map((each, row) => each + h * (si * factor[row * size + i]! + sj * factor[row * size + j]!)),
    );
  const matrix = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    matrix[i * size + i] = (2 * value - at(i, 1, i, 0) - at(i, -1, i, 0)) / (h * h);
    for (let j = 0; j < i; j++) {
      const mixed = (at(i, 1, j, -1) + at(i, -1, j, 1) - at(i, 1, j, 1) - at(i, -1, j, -1)) / (4 * h * h);
      matrix[i * size + j] = mixed;
      matrix[j * size + i] = mixed;
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

/**
 * Finds the mode of a density and the normal law that has the same curvature there (Laplace's approximation).
 *
 * @param density its logarithm; finite near the starts.
 * @param starts where to climb from, at least one; the highest summit counts.
 */
export function laplaceFit(density: LogDensity, starts: readonly Float64Array[]): LaplaceFit {
  const summits = starts.map((start) => climb(density, start));
  const best = summits.reduce((one, other) => (other.value > one.value ? other : one));
  const size = best.at.length;
  // The scale found on the way up makes the steps of the second differences fit each direction; again while it is off.
  let factor = choleskyFactor(best.inverse, size) ?? identityMatrix(size);
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    const parts = eigenParts(curvatures(density, best.at, best.value, factor), size);
    factor = timesMatrix(factor, inverseRoot(parts), size);
    if (parts.values[size - 1]! > 1 / FITTING_SCALE && parts.values[0]! < FITTING_SCALE) break;
  }
  return { mean: best.at, factor, logDensity: best.value, converged: best.converged };
}
