/** How two set-ups differ on average in each world, from lives that also had luck. */
import { mean } from './moments.js';

/** Figures of a set-up: one per trial, and those of the trials that were lived twice. */
export interface LivedTwice {
  /** One figure per trial, 0 or more. */
  readonly lives: Float64Array;
  /** Those of the trials that have a twin. */
  readonly first: Float64Array;
  /** Those of their twins, in the same order. */
  readonly twin: Float64Array;
}

/** Differences own - reference, one per row, in the unit of the figures. */
export type Differences = (own: Float64Array, reference: Float64Array) => Float64Array;

/** Takes the luck out of the difference of two set-ups. */
export interface LuckFilter {
  /** Share of luck in the variance of the relative difference, 0 to 1. */
  readonly luckShare: number;
  /** Differences of trials as if spread as those between the means of worlds are. */
  readonly worlds: Differences;
  /** Best guesses at the difference in each trial's own world; they are spread less. */
  readonly guesses: Differences;
}

/**
 * Fits a filter to worlds that were lived twice.
 *
 * Worlds differ by factors, and so does luck. What is filtered is therefore the relative difference, the difference
 * over the mean of the two figures: it lies between -2 and 2, so that no single ruin rules the fit. Half the mean
 * square by which twins differ is the variance of luck; the rest of the variance is that of worlds. Shrinking towards
 * the overall relative difference by the square root of the worlds' share gives differences spread as those of worlds,
 * shrinking by the share itself the best linear guess. Both lie between the difference of the trial and the overall
 * one, so a set-up that is ahead in every trial is ahead in every world.
 *
 * @param own figures of the set-up, at least two twins.
 * @param reference figures of the other, in the same trials.
 * Source: one-way random-effects moments, Searle, Casella and McCulloch, Variance Components; shrinking by the square
 * root is constrained empirical Bayes, Louis (1984). From memory.
 */
export function fitLuckFilter(own: LivedTwice, reference: LivedTwice): LuckFilter {
  const luckShare = luckShareOf(
    relativeDifferences(own.first, reference.first),
    relativeDifferences(own.twin, reference.twin),
  );
  const scaleLuck = luckShareOf(scales(own.first, reference.first), scales(own.twin, reference.twin));
  const meanScale = mean(scales(own.lives, reference.lives));
  const overall = meanScale > 0 ? (mean(own.lives) - mean(reference.lives)) / meanScale : 0;
  const filtered =
    (kept: (share: number) => number): Differences =>
    (figures, others) => {
      const keptScale = kept(1 - scaleLuck);
      const keptDifference = kept(1 - luckShare);
      const scale = scales(figures, others);
      return relativeDifferences(figures, others).map(
        (relative, row) =>
          (meanScale + keptScale * (scale[row]! - meanScale)) *
          (overall + keptDifference * (relative - overall)),
      );
    };
  return { luckShare, worlds: filtered(Math.sqrt), guesses: filtered((share) => share) };
}

/** Mean size of two figures, row by row. */
function scales(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((value, row) => (Math.abs(value) + Math.abs(b[row]!)) / 2);
}

/** Difference over mean size; 0 where both are 0. */
function relativeDifferences(a: Float64Array, b: Float64Array): Float64Array {
  const scale = scales(a, b);
  return a.map((value, row) => (scale[row]! > 0 ? (value - b[row]!) / scale[row]! : 0));
}

/** Share of the variance that is left between twins, at most 1. */
function luckShareOf(first: Float64Array, twin: Float64Array): number {
  const centre = (mean(first) + mean(twin)) / 2;
  let within = 0;
  let whole = 0;
  for (let row = 0; row < first.length; row += 1) {
    const [a, b] = [first[row]!, twin[row]!];
    within += (a - b) * (a - b);
    whole += (a - centre) * (a - centre) + (b - centre) * (b - centre);
  }
  return whole > 0 ? Math.min(within / whole, 1) : 0;
}
