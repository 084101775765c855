/** How well each trial agrees with what a tread gauge says: likelihoods of readings as weights. */
import { exp, log } from '../numeric/elementary.js';
import { TWO_PI } from '../numeric/gamma.js';
import { normalCdf, regularizedGammaQ } from '../numeric/special.js';
import { WORN } from '../simulate/columns.js';
import type { WearHistories } from '../simulate/wear-histories.js';

/** A band of the tread; "shallowest" is the band with the least groove left. */
export type TreadPlace = 'centre' | 'inner shoulder' | 'outer shoulder' | 'shallowest';

/** One reading of a tread gauge on a main tire. */
export interface TreadReading {
  readonly wheel: 'left' | 'right';
  readonly band: TreadPlace;
  /** Mean of readings all round the band, or the worst place on it. */
  readonly place: 'mean' | 'worst';
  /** Groove depth read, m. */
  readonly grooveM: number;
  /** Standard deviation of the reading: gauge, hand, and tread uneven beyond what the model knows, m; 0 or more. */
  readonly errorM: number;
  /** Step to which it is rounded, m; 0 or more, and more than 0 if the error is 0. */
  readonly stepM: number;
}

/**
 * Groove depth at the place of a reading, trial by trial.
 *
 * @param wear recorded wear.
 * @param look which of its looks.
 * @param reading where.
 * @returns m; 0 where the groove is gone.
 */
export function groovesM(
  wear: WearHistories,
  look: number,
  { wheel, band, place }: TreadReading,
): Float64Array {
  const { centreM, innerM, outerM, deepestM } = wear[wheel];
  const looks = wear.looks.length;
  return Float64Array.from({ length: wear.trials.rows }, (_, trial) => {
    const at = trial * looks + look;
    const [centre, inner, outer] = [centreM[at]!, innerM[at]!, outerM[at]!];
    const deepest = Math.max(centre, inner, outer);
    const byBand = { centre, 'inner shoulder': inner, 'outer shoulder': outer, shallowest: deepest };
    // Pivots wear spots that lie across the whole tread.
    const spot = place === 'worst' ? deepestM[at]! - deepest : 0;
    return Math.max(0, wear.newTreadM - byBand[band] - spot);
  });
}

/**
 * Which trials may be like tires that are on the airplane after so many landings: those whose tires are still on, and
 * those taken off as worn, since an owner may not have noticed. Not those with a sudden end or an age before.
 *
 * @param wear recorded wear.
 * @param landings landings flown.
 * @returns 1 or 0 by trial.
 */
export function stillOn(wear: WearHistories, landings: number): Uint8Array {
  const { lifeLandings, lifeCause } = wear.trials.columns;
  return lifeCause.map((cause, trial) => (lifeLandings[trial]! > landings || cause === WORN ? 1 : 0));
}

/** Logarithm of the chance that a standard normal variable lies between two values, accurate in the tails. */
function logChanceBetween(low: number, high: number): number {
  const chance = low > 0 ? normalCdf(-low) - normalCdf(-high) : normalCdf(high) - normalCdf(low);
  if (chance > 0) return log(chance);
  // Beyond what a number can hold, the nearer end rules: log P(Z > z) is near -z^2 / 2 - log z - log(2 pi) / 2.
  const z = low > 0 ? low : -high;
  return -0.5 * z * z - log(z * Math.sqrt(TWO_PI));
}

/** Steps below this share of the error change nothing: the density stands for the chance of the step. */
const FINE_STEP = 1e-3;

/**
 * Logarithm of the likelihood of a reading.
 *
 * @param reading what was read.
 * @param grooveM the groove that is there, m.
 * @param widened factor by which the error is taken as greater, 1 or more.
 */
export function logLikelihood(
  { grooveM: read, errorM, stepM }: TreadReading,
  grooveM: number,
  widened: number,
): number {
  const error = errorM * widened;
  const step = stepM * widened;
  // A groove that is gone reads 0 however far below its bottom the rubber is.
  const low = read <= step / 2 ? -Infinity : read - step / 2;
  const high = read + step / 2;
  if (error === 0) return grooveM >= low && grooveM <= high ? 0 : -Infinity;
  if (step < FINE_STEP * error && read > 0) {
    const off = (read - grooveM) / error;
    return -0.5 * off * off;
  }
  return logChanceBetween((low - grooveM) / error, (high - grooveM) / error);
}

/** Weights of trials. */
export interface TrialWeights {
  /** By trial; they add to 1, or are all 0 if no trial agrees at all. */
  readonly weights: Float64Array;
  /** How many equally weighted trials they are worth. */
  readonly effectiveTrials: number;
}

/**
 * Weights trials by the likelihood of all readings, taken as independent.
 *
 * @param readings what was read; none leaves all trials alike.
 * @param grooves groove depth at the place of each, by trial, m.
 * @param eligible 1 for trials that may be like the tires.
 * @param widened factor by which errors are taken as greater, 1 or more.
 * @see importance sampling from the prior, with the effective number of Kish (1965), both from memory.
 */
export function weighTrials(
  readings: readonly TreadReading[],
  grooves: readonly Float64Array[],
  eligible: Uint8Array,
  widened = 1,
): TrialWeights {
  const weights = Float64Array.from(eligible, (flag, trial) =>
    flag === 0
      ? -Infinity
      : readings.reduce((sum, each, k) => sum + logLikelihood(each, grooves[k]![trial]!, widened), 0),
  );
  const highest = weights.reduce((most, value) => Math.max(most, value), -Infinity);
  if (highest === -Infinity) return { weights: weights.fill(0), effectiveTrials: 0 };
  let sum = 0;
  weights.forEach((value, trial) => {
    weights[trial] = exp(value - highest);
    sum += weights[trial];
  });
  let squares = 0;
  weights.forEach((value, trial) => {
    weights[trial] = value / sum;
    squares += weights[trial] * weights[trial];
  });
  return { weights, effectiveTrials: 1 / squares };
}

/** What the scenario gives for a place before it is read. */
export interface ReadingCheck {
  readonly reading: TreadReading;
  /** Groove depth of the trials that may be like the tires, before weighting, m. */
  readonly expectedM: { readonly mean: number; readonly standardDeviation: number };
  /** Reading minus expectation over its standard deviation, gauge error included. */
  readonly offBy: number;
}

/** How the readings agree with the scenario. */
export interface Agreement {
  readonly checks: readonly ReadingCheck[];
  /**
   * Chance of readings at least as far from the scenario as these, were it true, by the chi-square law of the squared
   * distance; null without readings. Wear is skewed, so small chances are a little too small: in trials of a shipped
   * scenario, one in 70 came out below 1 in 1000.
   */
  readonly chance: number | null;
}

/** Rounding to a step adds its square over 12 to the variance. */
const ROUNDING_VARIANCE = 1 / 12;

/**
 * Compares readings with what the scenario gave for them beforehand.
 *
 * @param readings what was read.
 * @param grooves groove depth at the place of each, by trial, m.
 * @param eligible 1 for trials that may be like the tires; at least two of them.
 * @see the prior predictive check of Box (1980), from memory.
 */
export function checkReadings(
  readings: readonly TreadReading[],
  grooves: readonly Float64Array[],
  eligible: Uint8Array,
): Agreement {
  const kept = grooves.map((depths) => depths.filter((_, trial) => eligible[trial] === 1));
  const count = kept[0]?.length ?? 0;
  const means = kept.map((depths) => depths.reduce((sum, depth) => sum + depth, 0) / count);
  const covariance = kept.map((one, i) =>
    Float64Array.from(kept, (other, j) => {
      let sum = 0;
      for (let k = 0; k < count; k += 1) sum += (one[k]! - means[i]!) * (other[k]! - means[j]!);
      const own = readings[i]!.errorM ** 2 + readings[i]!.stepM ** 2 * ROUNDING_VARIANCE;
      return sum / (count - 1) + (i === j ? own : 0);
    }),
  );
  const off = readings.map(({ grooveM }, i) => grooveM - means[i]!);
  const checks = readings.map((reading, i) => ({
    reading,
    expectedM: {
      mean: means[i]!,
      standardDeviation: Math.sqrt(
        Math.max(0, covariance[i]![i]! - reading.errorM ** 2 - reading.stepM ** 2 * ROUNDING_VARIANCE),
      ),
    },
    offBy: off[i]! / Math.sqrt(covariance[i]![i]!),
  }));
  if (readings.length === 0) return { checks, chance: null };
  return { checks, chance: regularizedGammaQ(readings.length / 2, squaredDistance(covariance, off) / 2) };
}

/** off' covariance^-1 off, by Cholesky's factors; a column that others give exactly counts once. */
function squaredDistance(covariance: readonly Float64Array[], off: readonly number[]): number {
  const factor = covariance.map((row) => new Float64Array(row.length));
  const solved: number[] = [];
  let sum = 0;
  off.forEach((value, i) => {
    let rest = value;
    for (let j = 0; j <= i; j += 1) {
      let entry = covariance[i]![j]!;
      for (let k = 0; k < j; k += 1) entry -= factor[i]![k]! * factor[j]![k]!;
      if (j < i) {
        factor[i]![j] = factor[j]![j]! > 0 ? entry / factor[j]![j]! : 0;
        rest -= factor[i]![j]! * solved[j]!;
      } else {
        factor[i]![i] = entry > 1e-12 * covariance[i]![i]! ? Math.sqrt(entry) : 0;
      }
    }
    const z = factor[i]![i]! > 0 ? rest / factor[i]![i]! : 0;
    solved.push(z);
    sum += z * z;
  });
  return sum;
}
