/** How much the rate of sudden ends (cuts, flats) differs between worlds, from twins that share it. */
import { exp, log } from '../numeric/elementary.js';
import type { Estimate } from './shares.js';

/** Lives of which some ended suddenly; the others were cut short by something else. */
export interface SuddenEnds {
  /** Chance of no sudden end up to the life, by all trials together, in (0, 1]. */
  readonly survival: Float64Array;
  /** 1 where it ended suddenly. */
  readonly ended: Uint8Array;
}

const STEPS = 64;
/** Largest concordance looked at; rates 38 times as unequal as an exponential's. */
const MOST_CONCORDANCE = 0.95;

/**
 * Log likelihood of twins whose rates share a gamma factor of mean 1 and this variance. The joint survival is then
 * (u^-v + w^-v - 1)^(-1/v), Clayton's, with u and w the survival of each alone.
 */
function logLikelihood(variance: number, first: SuddenEnds, twin: SuddenEnds): number {
  let sum = 0;
  for (let i = 0; i < first.survival.length; i += 1) {
    const logFirst = log(first.survival[i]!);
    const logTwin = log(twin.survival[i]!);
    const ends = first.ended[i]! + twin.ended[i]!;
    const joint = exp(-variance * logFirst) + exp(-variance * logTwin) - 1;
    sum -= (1 / variance + ends) * log(joint);
    sum -= (variance + 1) * (first.ended[i]! * logFirst + twin.ended[i]! * logTwin);
    if (ends === 2) sum += log(1 + variance);
  }
  return sum;
}

/** Variance of the gamma factor with this concordance (Kendall's tau) of twins. */
export function rateVariance(concordance: number): number {
  return (2 * concordance) / (1 - concordance);
}

/**
 * Concordance (Kendall's tau) of sudden ends of twins, had nothing else ended them, as the mean and standard deviation
 * of its posterior after a uniform prior on (0, 0.95).
 *
 * The highest likelihood would be simpler, but with few sudden ends it is often at 0, which would claim that nothing is
 * unknown about them; with few ends the mean stays away from 0 and with many the two agree.
 *
 * @param first trials that have a twin, at least one.
 * @param twin their twins, in the same order.
 * @see Clayton (1978), Biometrika 65:141; two stages as in Shih and Louis (1995), Biometrics 51:1384 (both from
 *   memory).
 */
export function twinConcordance(first: SuddenEnds, twin: SuddenEnds): Estimate {
  const values = Array.from({ length: STEPS }, (_, step) => ((step + 0.5) / STEPS) * MOST_CONCORDANCE);
  const heights = values.map((value) => logLikelihood(rateVariance(value), first, twin));
  const highest = heights.reduce((most, height) => Math.max(most, height));
  let whole = 0;
  let mean = 0;
  let square = 0;
  values.forEach((value, step) => {
    const weight = exp(heights[step]! - highest);
    whole += weight;
    mean += weight * value;
    square += weight * value * value;
  });
  mean /= whole;
  return { estimate: mean, standardError: Math.sqrt(Math.max(square / whole - mean * mean, 0)) };
}
