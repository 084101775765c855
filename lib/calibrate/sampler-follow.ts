import { choleskyFactor } from './sampler-matrix.js';

const POWERS = 3;
/** Weight of the ridge: terms that the draws do not tell stay small. */
const RIDGE = 3;

/** How one coordinate follows others, as learned from draws. */
export interface Follower {
  readonly middle: number;
  /** Standard deviation about the curve. */
  readonly spread: number;
  /** Coordinates that are followed. */
  readonly followed: readonly number[];
  /** A cubic in each of them. */
  readonly terms: readonly FollowedTerm[];
}

/** Cubic in one coordinate, flat beyond what was seen. */
export interface FollowedTerm {
  readonly low: number;
  readonly high: number;
  readonly factors: readonly number[];
  /** Means of the powers, taken away from them. */
  readonly means: readonly number[];
}

/** Value of the curve of a follower. */
export function followedValue({ middle, followed, terms }: Follower, u: Float64Array): number {
  let sum = middle;
  for (let t = 0; t < terms.length; t++) {
    const { low, high, factors, means } = terms[t]!;
    const at = Math.min(high, Math.max(low, u[followed[t]!]!));
    let power = 1;
    for (let p = 0; p < POWERS; p++) {
      power *= at;
      sum += factors[p]! * (power - means[p]!);
    }
  }
  return sum;
}

function meanAndSpread(values: ArrayLike<number>): { mean: number; spread: number } {
  let mean = 0;
  let squares = 0;
  for (let n = 0; n < values.length; n++) mean += values[n]! / values.length;
  for (let n = 0; n < values.length; n++)
    squares += ((values[n]! - mean) * (values[n]! - mean)) / values.length;
  return { mean, spread: Math.sqrt(squares) };
}

/**
 * Learns how a coordinate follows others: ridge regression on the powers of each, shrunk to a standard normal law where
 * the draws are worth little.
 *
 * @param values of the coordinate, by draw.
 * @param draws all coordinates, by draw.
 * @param followed which of them may be followed.
 * @param worth independent draws that the draws are worth, roughly.
 */
export function followFrom(
  values: Float64Array,
  draws: readonly Float64Array[],
  followed: readonly number[],
  worth: number,
): Follower {
  const { mean } = meanAndSpread(values);
  const trust = worth / (worth + 2);
  const columns = followed.flatMap((j) =>
    Array.from({ length: POWERS }, (_, p) =>
      Float64Array.from(draws, (u) => (p === 0 ? u[j]! : p === 1 ? u[j]! * u[j]! : u[j]! * u[j]! * u[j]!)),
    ),
  );
  const moments = columns.map(meanAndSpread);
  const size = columns.length;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let a = 0; a < size; a++) {
    const [one, { mean: meanA, spread: spreadA }] = [columns[a]!, moments[a]!];
    for (let n = 0; n < values.length; n++) {
      right[a]! += (((one[n]! - meanA) / spreadA) * (values[n]! - mean)) / values.length;
    }
    for (let b = 0; b <= a; b++) {
      const [other, { mean: meanB, spread: spreadB }] = [columns[b]!, moments[b]!];
      let sum = 0;
      for (let n = 0; n < values.length; n++) {
        sum += ((one[n]! - meanA) / spreadA) * ((other[n]! - meanB) / spreadB);
      }
      normal[a * size + b] = normal[b * size + a] = sum / values.length + (a === b ? RIDGE / (worth + 1) : 0);
    }
  }
  const solved = solve(normal, right);
  const terms = followed.map((j, t): FollowedTerm => {
    const seen = Float64Array.from(draws, (u) => u[j]!).sort();
    const of = Array.from({ length: POWERS }, (_, p) => t * POWERS + p);
    return {
      low: seen[0]!,
      high: seen[seen.length - 1]!,
      factors: of.map((at) => solved[at]! / moments[at]!.spread),
      means: of.map((at) => moments[at]!.mean),
    };
  });
  const curve: Follower = { middle: trust * mean, spread: 1, followed, terms };
  const { spread } = meanAndSpread(Float64Array.from(draws, (u, n) => values[n]! - followedValue(curve, u)));
  return { ...curve, spread: Math.sqrt(trust * spread * spread + (1 - trust)) };
}

/** Solves a symmetric positive definite system; zeros where it is not. */
function solve(matrix: Float64Array, right: Float64Array): Float64Array {
  const size = right.length;
  const solved = new Float64Array(size);
  const factor = size === 0 ? null : choleskyFactor(matrix, size);
  if (factor === null || right.some((each) => !Number.isFinite(each))) return solved;
  for (let i = 0; i < size; i++) {
    let rest = right[i]!;
    for (let j = 0; j < i; j++) rest -= factor[i * size + j]! * solved[j]!;
    solved[i] = rest / factor[i * size + i]!;
  }
  for (let i = size - 1; i >= 0; i--) {
    let rest = solved[i]!;
    for (let j = i + 1; j < size; j++) rest -= factor[j * size + i]! * solved[j]!;
    solved[i] = rest / factor[i * size + i]!;
  }
  return solved;
}
