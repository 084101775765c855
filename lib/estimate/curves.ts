import { flightHoursAfter, type Calendar } from '../scenario/calendar.js';
import { IN_SERVICE, REMOVAL_CAUSES, type PairingTrials, type RemovalCause } from '../simulate/columns.js';
import { cumulativeIncidence, type CumulativeIncidence } from './cumulative-incidence.js';
import { lastRowAtOrBefore } from './event-table.js';
import { kaplanMeier, lowestSurvivalBeforeFirstEnd, type KaplanMeierCurve } from './kaplan-meier.js';
import type { WorldCurves } from './world-curves.js';

/** A cause that ends the life of a tire. */
export type EndCause = Exclude<RemovalCause, 'in service'>;

/** The causes, in the order of their codes 1, 2, ... */
export const END_CAUSES: readonly EndCause[] = REMOVAL_CAUSES.slice(1) as EndCause[];

/** Survival of the first main tires and how they end, at full resolution. */
export interface LifeCurves {
  readonly survival: KaplanMeierCurve;
  readonly incidence: CumulativeIncidence;
}

/** 1 where a removal cause ended the life, 0 where the tire was still in service when last seen. */
export function endedFlags(causes: Uint8Array): Uint8Array {
  return causes.map((cause) => (cause === IN_SERVICE ? 0 : 1));
}

/**
 * Survival curve and cumulative incidence by removal cause of the first main tires.
 *
 * @param trials results of a pairing.
 * @returns curves in landings; removal causes by their code, all of them, seen or not.
 */
export function lifeCurves(trials: PairingTrials): LifeCurves {
  const { lifeLandings, lifeCause } = trials.columns;
  return {
    survival: kaplanMeier(lifeLandings, endedFlags(lifeCause)),
    incidence: cumulativeIncidence(lifeLandings, Int8Array.from(lifeCause), {
      causes: END_CAUSES.map((_, index) => index + 1),
    }),
  };
}

/** Curves thinned for a chart or a file: a start point and at most `points` more. */
export interface ThinCurves {
  readonly landings: readonly number[];
  readonly hours: readonly number[];
  readonly survival: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly incidence: Readonly<Record<EndCause, readonly number[]>>;
  /** Curves of a harsh and a kind world; null where there were too few twins to tell luck from ignorance. */
  readonly worlds: WorldCurves | null;
}

/**
 * Thins life curves to even steps of landings.
 *
 * @param curves from {@link lifeCurves}.
 * @param calendar landings of a year.
 * @param points number of steps.
 * @param worldsAt makes the curves of a harsh and a kind world, from the landings and the thinned survival.
 * @returns columns of equal length; every value is read off the full curve, nothing is smoothed.
 */
export function thinCurves(
  curves: LifeCurves,
  calendar: Calendar,
  points = 60,
  worldsAt: (landings: readonly number[], survival: readonly number[]) => WorldCurves | null = () => null,
): ThinCurves {
  const { survival, incidence } = curves;
  const last = survival.time.length === 0 ? survival.lastTime : survival.time[survival.time.length - 1]!;
  const steps = Math.max(1, Math.min(points, last));
  const landings = Array.from({ length: steps + 1 }, (_, step) => Math.round((last * step) / steps));
  const read = (time: Float64Array, values: Float64Array, before: number): number[] =>
    landings.map((count) => {
      const row = lastRowAtOrBefore(time, count);
      return row < 0 ? before : values[row]!;
    });
  const shares = read(survival.time, survival.survival, 1);
  return {
    landings,
    hours: landings.map((count) => flightHoursAfter(calendar, count)),
    survival: shares,
    lower: read(survival.time, survival.lower, lowestSurvivalBeforeFirstEnd(survival)),
    upper: read(survival.time, survival.upper, 1),
    incidence: Object.fromEntries(
      END_CAUSES.map((cause, index) => [cause, read(incidence.time, incidence.byCause[index]!.incidence, 0)]),
    ) as Record<EndCause, number[]>,
    worlds: worldsAt(landings, shares),
  };
}
