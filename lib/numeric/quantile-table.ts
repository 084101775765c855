/**
 * Tables of a distribution's quantile as a function of a standard normal score z.
 *
 * A normal draw z becomes a draw of any continuous distribution through quantile(Phi(z)). The table makes that
 * cheap inside the simulation loop. It is a plain Float64Array, so it can be sent to a worker.
 */
import { gammaQuantile, gammaQuantileUpper, normalCdf } from './special.js';

/** Scores are clamped to [-6.5, 6.5]: a share of 8e-11 of all draws lies outside. */
const LARGEST_SCORE = 6.5;
const CELLS_PER_UNIT = 16;
const CELLS = 208;
const NUMBERS_PER_CELL = 4;

/** A fall below this share of the value is taken for a rounding error of the tabulated function. */
const ROUNDING_SHARE = 1e-12;

/** True when a + b t + c t^2 >= 0 for every t in [0, 1]. */
function isNonNegativeOnCell(a: number, b: number, c: number): boolean {
  if (a < 0 || a + b + c < 0) return false;
  const dips = c > 0 && b < 0 && -b < 2 * c;
  return !dips || 4 * a * c >= b * b;
}

/**
 * Tabulates a non-decreasing quantile function of the score: 208 cells of width 1/16 over [-6.5, 6.5], each with
 * the cubic that meets the function at both ends and at two points between. A cell where that cubic would fall
 * (a function with a kink) gets a straight line instead.
 *
 * @param quantileOfZ quantile as a function of the standard normal score; finite and non-decreasing.
 * @returns the table for `quantileAtZ`, continuous and non-decreasing.
 * @throws RangeError when `quantileOfZ` gives a value that is not finite, or decreases.
 */
export function buildQuantileTable(quantileOfZ: (z: number) => number): Float64Array {
  // One more cell holds the value at the upper end, so that a score there needs no special case.
  const table = new Float64Array(NUMBERS_PER_CELL * (CELLS + 1));
  let previous = -Infinity;
  const valueAt = (cell: number): number => {
    const z = cell / CELLS_PER_UNIT - LARGEST_SCORE;
    const value = quantileOfZ(z);
    if (!Number.isFinite(value)) throw new RangeError(`quantile at z = ${z} must be finite; found ${value}`);
    if (value < previous - ROUNDING_SHARE * Math.abs(previous)) {
      throw new RangeError(`quantile must not decrease; found ${value} at z = ${z} after ${previous}`);
    }
    previous = Math.max(previous, value);
    return previous;
  };
  let start = valueAt(0);
  for (let cell = 0; cell < CELLS; cell += 1) {
    const atQuarter = valueAt(cell + 0.25) - start;
    const atThreeQuarters = valueAt(cell + 0.75) - start;
    const end = valueAt(cell + 1);
    const rise = end - start;
    // start + t (linear + t (square + t cubic)) through t = 0, 1/4, 3/4 and 1.
    let linear = 8 * atQuarter - (8 / 3) * atThreeQuarters + rise;
    let square = (-56 / 3) * atQuarter + (40 / 3) * atThreeQuarters - (16 / 3) * rise;
    let cubic = (32 / 3) * (atQuarter - atThreeQuarters) + (16 / 3) * rise;
    if (!isNonNegativeOnCell(linear, 2 * square, 3 * cubic)) {
      linear = rise;
      square = 0;
      cubic = 0;
    }
    table.set([start, linear, square, cubic], NUMBERS_PER_CELL * cell);
    start = end;
  }
  table[NUMBERS_PER_CELL * CELLS] = start;
  return table;
}

/**
 * Quantile at a standard normal score, from a table.
 *
 * @param table from `buildQuantileTable` or `gammaUnitMeanQuantileTable`.
 * @param z standard normal score, any number but NaN; beyond -6.5 or 6.5 the value at that end is returned.
 * @returns the quantile, in the unit of the tabulated function.
 */
export function quantileAtZ(table: Float64Array, z: number): number {
  const position = Math.min(Math.max(z + LARGEST_SCORE, 0), 2 * LARGEST_SCORE) * CELLS_PER_UNIT;
  const cell = position | 0;
  const t = position - cell;
  const entry = cell << 2;
  return table[entry]! + t * (table[entry + 1]! + t * (table[entry + 2]! + t * table[entry + 3]!));
}

/** Below this coefficient of variation the expansion is good to 1e-13 and the incomplete gamma slow. */
const SMALL_VARIATION = 0.005;

/** Largest coefficient of variation that a table takes. */
const LARGEST_VARIATION = 3;

/**
 * Quantile of a gamma distribution of mean 1 with a small coefficient of variation, at score z.
 *
 * Cornish and Fisher's expansion for chi-square (2 shape degrees of freedom), up to cv^5: M. Abramowitz and
 * I. A. Stegun, "Handbook of Mathematical Functions" (1964), 26.2.49 with the gamma cumulants; from memory.
 */
function nearlyNormalGamma(cv: number, z: number): number {
  const square = z * z;
  const third = (square - 1) / 3;
  const fourth = (z * (square - 7)) / 36;
  const fifth = -(square * (3 * square + 7) - 16) / 810;
  const sixth = (z * (square * (9 * square + 256) - 433)) / 38880;
  return 1 + cv * (z + cv * (third + cv * (fourth + cv * (fifth + cv * sixth))));
}

/**
 * Table of the gamma distribution with mean 1: a multiplier that is above 0 and right on average.
 *
 * Interpolation error, of the mean: below 2e-10 at a coefficient of variation of 0.5, 3e-9 at 1, 2e-7 at 3.
 * Relative to the value itself: below 5e-8 up to 0.5; below 1e-6 at 1 and 5e-5 at 3 for values above 0.001.
 *
 * @param coefficientOfVariation standard deviation over mean, in [0, 3]; 0 gives a table of ones.
 * @returns the table for `quantileAtZ`.
 * @throws RangeError when the coefficient of variation is outside [0, 3] or NaN.
 */
export function gammaUnitMeanQuantileTable(coefficientOfVariation: number): Float64Array {
  const cv = coefficientOfVariation;
  if (!(cv >= 0 && cv <= LARGEST_VARIATION)) {
    throw new RangeError(`coefficientOfVariation must lie in [0, ${LARGEST_VARIATION}]; found ${cv}`);
  }
  if (cv < SMALL_VARIATION) return buildQuantileTable((z) => nearlyNormalGamma(cv, z));
  const scale = cv * cv;
  const shape = 1 / scale;
  // From the smaller tail on either side, so that the far upper tail keeps its digits.
  return buildQuantileTable((z) =>
    z <= 0 ? gammaQuantile(normalCdf(z), shape, scale) : gammaQuantileUpper(normalCdf(-z), shape, scale),
  );
}
