/** Several ways to end: what share of trials has ended by each cause after a given life. */
import { eventTable, takeLateEntries } from './event-table.js';
import { DEFAULT_LEVEL, logLogBand, requireLevel } from './interval.js';
import type { SurvivalOptions } from './kaplan-meier.js';

/** Share of trials ended by one cause, as columns matching the rows of the table it belongs to. */
export interface CauseIncidence {
  /** Code of the cause, 1 or more. */
  readonly cause: number;
  /** Trials that ended by this cause at each time. */
  readonly ended: Int32Array;
  /** Share ended by this cause up to and including each time, in [0, 1], never falling. */
  readonly incidence: Float64Array;
  readonly standardError: Float64Array;
  /** Pointwise interval for `incidence`, inside [0, 1]. */
  readonly lower: Float64Array;
  readonly upper: Float64Array;
}

/** Cumulative incidence of every cause; one row per distinct time at which a trial ended. */
export interface CumulativeIncidence {
  /** Distinct end times, ascending, in the unit of the lives given. */
  readonly time: Float64Array;
  /** Trials still running just before each time. */
  readonly atRisk: Int32Array;
  /** Share still running just after each time; with the incidences it adds to 1. */
  readonly survival: Float64Array;
  /** One entry per cause, ascending by code. */
  readonly byCause: readonly CauseIncidence[];
  readonly level: number;
  readonly trials: number;
  /** Longest life observed, ended or censored. */
  readonly lastTime: number;
}

/** Settings of a cumulative incidence estimate. */
export interface IncidenceOptions extends SurvivalOptions {
  /** Cause codes to report even when no trial ended that way. */
  readonly causes?: readonly number[];
  /** Life at which each trial came under watch (delayed entry), as for a Kaplan-Meier curve; default: all from 0. */
  readonly entry?: Float64Array | Int32Array;
}

/** Below this distance from 1 an incidence is 1 but for rounding. */
const ROUNDING = 1e-12;

function causeIncidence(
  cause: number,
  ended: Int32Array,
  endedAtAll: Int32Array,
  atRisk: Int32Array,
  level: number,
): CauseIncidence {
  const rows = ended.length;
  const incidence = new Float64Array(rows);
  const standardError = new Float64Array(rows);
  const lower = new Float64Array(rows);
  const upper = new Float64Array(rows);
  let survival = 1;
  let share = 0;
  // Variances and covariance of (survival, incidence), carried from one end time to the next.
  let survivalVariance = 0;
  let covariance = 0;
  let variance = 0;
  // Complete trials that those running are worth; once all have ended, late entries add nothing to what is known.
  let worth = Infinity;
  for (let row = 0; row < rows; row += 1) {
    const running = atRisk[row]!;
    const left = running - endedAtAll[row]!;
    const hazard = ended[row]! / running;
    const stay = left / running;
    // Multinomial variances of the hazards at this time, times the square of the survival before it.
    const scale = (survival * survival) / (running * running * running);
    const hazardVariance = scale * ended[row]! * (running - ended[row]!);
    const allVariance = scale * endedAtAll[row]! * left;
    const hazardCovariance = scale * ended[row]! * left;
    variance += 2 * hazard * covariance + hazard * hazard * survivalVariance + hazardVariance;
    covariance = stay * (covariance + hazard * survivalVariance) - hazardCovariance;
    survivalVariance = stay * stay * survivalVariance + allVariance;
    share = Math.min(share + survival * hazard, 1);

    incidence[row] = share;
    standardError[row] = Math.sqrt(Math.max(variance, 0));
    const rest = 1 - share < ROUNDING ? 0 : 1 - share;
    if (survival > 0) worth = running / survival;
    const band = logLogBand(rest, standardError[row]!, worth, level);
    lower[row] = 1 - band.upper;
    upper[row] = 1 - band.lower;
    survival *= stay;
  }
  return { cause, ended, incidence, standardError, lower, upper };
}

/**
 * Aalen-Johansen estimate of the share of trials ended by each cause, with the other causes able to come first.
 *
 * Use it whenever a life can end in more than one way (worn, cut, punctured). One minus a Kaplan-Meier curve
 * with the other causes censored answers a different question and overstates every share.
 *
 * @param times life of each trial, >= 0, any unit; finite.
 * @param causes how it ended: 0 censored, otherwise a code from 1 to 127.
 * @param options `level` of the pointwise interval (default 0.95); `causes` to report even when unseen;
 *   `entry` of each trial, below its life.
 * @returns columns, one row per distinct end time. Interval: log(-log) of 1 - incidence, so that with a single
 *   cause it is the complement of the Kaplan-Meier band; while a cause is unseen its upper bound is Clopper
 *   and Pearson's for none of Y/S(t-) complete trials.
 * Throws RangeError for unequal lengths, no lives, a bad life or a bad code. O(n log n + rows x causes).
 * Source: Aalen and Johansen (1978); variance by the delta method with multinomial increments, the Greenwood
 * type (Andersen, Borgan, Gill and Keiding 1993, section IV.4; from memory; values checked against R survival). With late
 * entries it stays of that type, as for a Kaplan-Meier curve, where R survfit gives the infinitesimal jackknife instead.
 * Without censoring it is exactly share x (1 - share) / n.
 * @example
 * import { cumulativeIncidence } from 'gravelbar';
 * const result = cumulativeIncidence(Int32Array.of(3, 5, 5, 8), Int8Array.of(1, 2, 0, 1));
 * result.byCause.map(({ cause, incidence }) => [cause, incidence[1]]); // => [[1, 0.25], [2, 0.25]]
 */
export function cumulativeIncidence(
  times: Float64Array | Int32Array,
  causes: Int8Array,
  options: IncidenceOptions = {},
): CumulativeIncidence {
  const level = options.level ?? DEFAULT_LEVEL;
  requireLevel(level);
  const table = eventTable(times, causes, options.causes);
  if (options.entry !== undefined) takeLateEntries(table, times, options.entry);
  const survival = new Float64Array(table.time.length);
  let share = 1;
  for (let row = 0; row < survival.length; row += 1) {
    share = (share * (table.atRisk[row]! - table.ended[row]!)) / table.atRisk[row]!;
    survival[row] = share;
  }
  return {
    time: table.time,
    atRisk: table.atRisk,
    survival,
    byCause: table.causes.map((cause, column) =>
      causeIncidence(cause, table.endedByCause[column]!, table.ended, table.atRisk, level),
    ),
    level,
    trials: table.trials,
    lastTime: table.lastTime,
  };
}
