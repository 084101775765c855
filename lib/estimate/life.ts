import { daysAfter, DAYS_PER_MONTH, flightHoursAfter, type Calendar } from '../scenario/calendar.js';
import { kaplanMeier, survivalQuantile, type OpenInterval } from './kaplan-meier.js';
import { mean, standardErrorOfMean } from './moments.js';

/** 95 % interval for the error of the simulation; null where the figure lies beyond the horizon. */
export interface MonteCarloInterval {
  readonly lower: number | null;
  readonly upper: number | null;
}

/** A life in one unit. Quantiles are null where they lie beyond the horizon of the run. */
export interface LifeFigures {
  /** One life in ten is shorter. */
  readonly p10: number | null;
  /** Half of the lives are shorter. */
  readonly p50: number | null;
  /** Nine lives in ten are shorter. */
  readonly p90: number | null;
  /** Mean life; lives that reach the horizon count as that long, so it is a lower bound if any do. */
  readonly mean: number;
  /** Monte Carlo standard error of the mean. */
  readonly standardError: number;
  /** Monte Carlo 95 % intervals of the quantiles. */
  readonly intervals: {
    readonly p10: MonteCarloInterval;
    readonly p50: MonteCarloInterval;
    readonly p90: MonteCarloInterval;
  };
}

/** A life in landings, flight hours and calendar months. */
export interface LifeSummary {
  readonly landings: LifeFigures;
  readonly hours: LifeFigures;
  readonly months: LifeFigures;
  /** Share of trials in which the life had not ended at the horizon. */
  readonly beyondHorizon: number;
}

export type Clock = (landings: number) => number;

/** A quantile may fall between two landings; the clock is read on both sides. */
export function between(clock: Clock, landings: number): number {
  const below = Math.floor(landings);
  const at = clock(below);
  return landings === below ? at : at + (landings - below) * (clock(below + 1) - at);
}

/**
 * Life figures from landings to an end that may not have been seen.
 *
 * @param calendar landings of a year, to turn landings into hours and months.
 * @param landings landings to the end, or landings followed where it was not reached.
 * @param ended 1 where the end was reached, 0 where it lies beyond.
 * @returns figures in landings, hours and months.
 */
export function summarizeLife(calendar: Calendar, landings: Int32Array, ended: Uint8Array): LifeSummary {
  const curve = kaplanMeier(landings, ended);
  const quantiles = [0.1, 0.5, 0.9].map((probability) => survivalQuantile(curve, probability));
  const figures = (clock: Clock): LifeFigures => {
    const values = Float64Array.from(landings, clock);
    const read = (value: number | null): number | null => (value === null ? null : between(clock, value));
    const [p10, p50, p90] = quantiles.map(({ estimate, lower, upper }: OpenInterval) => ({
      estimate: read(estimate),
      interval: { lower: read(lower), upper: read(upper) },
    })) as [Reading, Reading, Reading];
    return {
      p10: p10.estimate,
      p50: p50.estimate,
      p90: p90.estimate,
      mean: mean(values),
      standardError: standardErrorOfMean(values),
      intervals: { p10: p10.interval, p50: p50.interval, p90: p90.interval },
    };
  };
  let open = 0;
  for (const flag of ended) if (flag === 0) open++;
  return {
    landings: figures((count) => count),
    hours: figures((count) => flightHoursAfter(calendar, count)),
    months: figures((count) => daysAfter(calendar, count) / DAYS_PER_MONTH),
    beyondHorizon: open / landings.length,
  };
}

interface Reading {
  readonly estimate: number | null;
  readonly interval: MonteCarloInterval;
}

/**
 * Life figures of a wear reading, stored as landings or -1 where it was not reached.
 *
 * @param calendar landings of a year.
 * @param reached landings at which the reading was reached; -1 if not within the horizon.
 * @param followed landings within the horizon.
 */
export function summarizeReading(calendar: Calendar, reached: Int32Array, followed: Int32Array): LifeSummary {
  const landings = Int32Array.from(reached, (value, row) => (value < 0 ? followed[row]! : value));
  return summarizeLife(
    calendar,
    landings,
    Uint8Array.from(reached, (value) => (value < 0 ? 0 : 1)),
  );
}
