/** The life curve: what share of trials is still running after a given life, with censored lives included. */
import { eventTable, lastRowAtOrBefore, takeLateEntries } from './event-table.js';
import { DEFAULT_LEVEL, highestChanceWhenNoneSeen, logLogBand, requireLevel } from './interval.js';

/** A Kaplan-Meier curve as columns, one row per distinct time at which a trial ended. */
export interface KaplanMeierCurve {
  /** Distinct end times, ascending, in the unit of the lives given. */
  readonly time: Float64Array;
  /** Trials still running just before each time. */
  readonly atRisk: Int32Array;
  /** Trials that ended at each time. */
  readonly ended: Int32Array;
  /** Share still running just after each time, in [0, 1], never rising. */
  readonly survival: Float64Array;
  /** Greenwood's standard error of `survival`. */
  readonly standardError: Float64Array;
  /** Pointwise interval for `survival`, inside [0, 1]. */
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** Two-sided level of the interval. */
  readonly level: number;
  readonly trials: number;
  /** Longest life observed, ended or censored; nothing is known beyond it while `survival` is above 0. */
  readonly lastTime: number;
  /** Trials whose life is `lastTime`. */
  readonly lastAtRisk: number;
}

/** Settings of a survival estimate. */
export interface SurvivalOptions {
  /** Two-sided level of the intervals, between 0 and 1; default 0.95. */
  readonly level?: number;
}

/** Settings of a Kaplan-Meier curve. */
export interface KaplanMeierOptions extends SurvivalOptions {
  /**
   * Life at which each trial came under watch (delayed entry): it would not have been seen had it ended by then. Default:
   * all from 0. With late entries few may run at first: ends there then weigh much, down to a survival of 0.
   */
  readonly entry?: Float64Array | Int32Array;
}

/** A value with an interval, each null when it lies beyond the observed time. */
export interface OpenInterval {
  readonly estimate: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

/**
 * Kaplan-Meier (product-limit) estimate of the life curve from lives of which some are censored.
 *
 * Use it when trials can be cut short by the horizon for reasons that say nothing about the life to come. With
 * several ways to end, use `cumulativeIncidence` for the share of each way.
 *
 * @param times life of each trial, >= 0, any unit (landings, hours); finite.
 * @param ended 1 when the life ended at that time, 0 when it was still running (censored). A life censored at
 *   the time another ends counts as running then.
 * @param options `level` of the pointwise interval, default 0.95; `entry` of each trial, below its life.
 * @returns columns, one row per distinct end time (none when nothing ended). The interval is log(-log); after
 *   the last trial has ended (survival 0) its upper bound is Clopper and Pearson's for none of Y/S(t-)
 *   complete trials (Y running just before), so the band never has zero width.
 * Throws RangeError for unequal lengths, no lives, a life below 0 or not finite, a flag other than 0 or 1.
 * O(n) for whole-number lives, O(n log n) otherwise.
 * Source: Kaplan and Meier (1958); standard error Greenwood (1926); effective number of trials Y/S as in Dorey
 * and Korn (1987). Attributions from memory; values checked against R survival.
 * @example
 * import { kaplanMeier } from 'gravelbar';
 * const curve = kaplanMeier(Int32Array.of(6, 6, 7, 10), Uint8Array.of(1, 0, 1, 0));
 * Array.from(curve.survival); // => [0.75, 0.375]
 */
export function kaplanMeier(
  times: Float64Array | Int32Array,
  ended: Uint8Array,
  options: KaplanMeierOptions = {},
): KaplanMeierCurve {
  const level = options.level ?? DEFAULT_LEVEL;
  requireLevel(level);
  for (let i = 0; i < ended.length; i += 1) {
    if (ended[i]! > 1) throw new RangeError(`ended[${i}] must be 0 or 1; found ${ended[i]!}`);
  }
  const table = eventTable(times, ended);
  if (options.entry !== undefined) takeLateEntries(table, times, options.entry);
  const rows = table.time.length;
  const survival = new Float64Array(rows);
  const standardError = new Float64Array(rows);
  const lower = new Float64Array(rows);
  const upper = new Float64Array(rows);
  let before = 1;
  let greenwood = 0;
  // Complete trials that those running are worth; once all have ended, late entries add nothing to what is known.
  let worth = Infinity;
  for (let row = 0; row < rows; row += 1) {
    const atRisk = table.atRisk[row]!;
    const stillRunning = atRisk - table.ended[row]!;
    const after = (before * stillRunning) / atRisk;
    if (stillRunning > 0) greenwood += table.ended[row]! / (atRisk * stillRunning);
    survival[row] = after;
    standardError[row] = after * Math.sqrt(greenwood);
    if (before > 0) worth = atRisk / before;
    const band = logLogBand(after, standardError[row]!, worth, level);
    lower[row] = band.lower;
    // Nothing can be more likely after a time than before it.
    upper[row] = after === 0 && row > 0 ? Math.min(band.upper, upper[row - 1]!) : band.upper;
    before = after;
  }
  return {
    time: table.time,
    atRisk: table.atRisk,
    ended: table.ended,
    survival,
    standardError,
    lower,
    upper,
    level,
    trials: table.trials,
    lastTime: table.lastTime,
    lastAtRisk: table.lastAtRisk,
  };
}

/** Lower bound of a curve before its first end: none of the trials seen up to there had ended. */
export function lowestSurvivalBeforeFirstEnd(curve: KaplanMeierCurve): number {
  return 1 - highestChanceWhenNoneSeen(curve.atRisk[0] ?? curve.lastAtRisk, curve.level);
}

/**
 * Chance of still running just after `time`, with the interval of the curve.
 *
 * `time` >= 0 in the unit of the curve. Beyond the longest life observed the estimate is null (unless every
 * trial had ended) and the interval runs from 0 to the last upper bound. Throws RangeError for a bad `time`.
 * @example
 * import { kaplanMeier, survivalAt } from 'gravelbar';
 * const curve = kaplanMeier(Int32Array.of(6, 6, 7, 10), Uint8Array.of(1, 0, 1, 0));
 * survivalAt(curve, 6.5).estimate; // => 0.75
 * survivalAt(curve, 11).estimate; // => null
 */
export function survivalAt(
  curve: KaplanMeierCurve,
  time: number,
): { readonly estimate: number | null; readonly lower: number; readonly upper: number } {
  if (!(time >= 0 && time < Infinity)) {
    throw new RangeError(`time must be a finite number of 0 or more; found ${time}`);
  }
  const row = lastRowAtOrBefore(curve.time, time);
  const estimate = row < 0 ? 1 : curve.survival[row]!;
  const upper = row < 0 ? 1 : curve.upper[row]!;
  if (time > curve.lastTime && estimate > 0) return { estimate: null, lower: 0, upper };
  return { estimate, lower: row < 0 ? lowestSurvivalBeforeFirstEnd(curve) : curve.lower[row]!, upper };
}

/** A curve that stays within this of the wanted height is flat there; the value R survival uses. */
const FLAT_TOLERANCE = Math.sqrt(2 ** -52);

/** First time at which a falling step function is at or below `height`; null when it never gets there. */
function crossingTime(curve: KaplanMeierCurve, steps: Float64Array, height: number): number | null {
  const rows = steps.length;
  let row = 0;
  while (row < rows && steps[row]! > height + FLAT_TOLERANCE) row += 1;
  if (row === rows) return null;
  const reached = curve.time[row]!;
  if (steps[row]! < height - FLAT_TOLERANCE) return reached;
  let next = row + 1;
  while (next < rows && steps[next]! >= height - FLAT_TOLERANCE) next += 1;
  return (reached + (next < rows ? curve.time[next]! : curve.lastTime)) / 2;
}

/**
 * Life by which a given share of trials has ended: a quantile of the life, with its interval.
 *
 * The estimate is the smallest time with survival at or below 1 - probabilityEnded. Where the curve is flat
 * exactly at that height (within 1.5e-8), it is the middle of the flat stretch, the convention of the R
 * survival package (quantile.survfit) and of the ordinary median. The interval holds the times at which the
 * band of the curve contains that height (Brookmeyer and Crowley 1982; from memory). Null means beyond the
 * observed time. Unlike R, the lower bound is 0 when so few trials ran that the height cannot be ruled out
 * even before the first end.
 *
 * `probabilityEnded` strictly between 0 and 1; RangeError otherwise.
 * @example
 * import { kaplanMeier, survivalQuantile } from 'gravelbar';
 * const times = Int32Array.of(1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23);
 * const curve = kaplanMeier(times, new Uint8Array(21).fill(1));
 * survivalQuantile(curve, 0.5); // => { estimate: 8, lower: 4, upper: 11 }
 */
export function survivalQuantile(curve: KaplanMeierCurve, probabilityEnded: number): OpenInterval {
  if (!(probabilityEnded > 0 && probabilityEnded < 1)) {
    throw new RangeError(`probabilityEnded must lie between 0 and 1; found ${probabilityEnded}`);
  }
  const height = 1 - probabilityEnded;
  return {
    estimate: crossingTime(curve, curve.survival, height),
    lower: lowestSurvivalBeforeFirstEnd(curve) <= height ? 0 : crossingTime(curve, curve.lower, height),
    upper: crossingTime(curve, curve.upper, height),
  };
}
