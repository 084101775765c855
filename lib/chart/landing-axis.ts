import { rounded } from './measures.js';
import type { ChartPart } from './spec.js';

/** A landing and the flight hours flown when it is done. */
export interface LandingHours {
  readonly landings: number;
  readonly flightHours: number;
}

/** Marks of the second reading, at most. */
const MOST_HOUR_MARKS = 8;

/**
 * Encoding of landings along the bottom, the first reading of a time line.
 *
 * @param last landing at the right end.
 * @param axis the axis; default: the landings along the bottom.
 */
export function landingsAlong(
  last: number,
  axis: ChartPart | null = {
    title: 'landings',
    grid: false,
    format: ',d',
    tickMinStep: 1,
    labelFlush: false,
  },
): ChartPart {
  return {
    field: 'landings',
    type: 'quantitative',
    scale: { domain: [0, Math.max(1, last)], nice: false, zero: true },
    axis,
  };
}

/**
 * Axis of flight hours along the top, the second reading of the same time line. Hours do not run quite evenly with
 * landings, so the marks stand where the hours are reached.
 *
 * @param path landings and hours, both ascending; straight between two.
 * @returns an axis; null where no hours are flown.
 */
export function hoursAxis(path: readonly LandingHours[]): ChartPart | null {
  const total = path[path.length - 1]?.flightHours ?? 0;
  if (!(total > 0)) return null;
  const step = roundStep(total / MOST_HOUR_MARKS);
  const count = Math.floor(total / step + 1e-9);
  const marks = Array.from({ length: count + 1 }, (_, index) => ({
    hours: rounded(index * step, 6).toLocaleString('en-US'),
    landings: rounded(landingsAt(path, index * step), 3),
  }));
  const names = Object.fromEntries(marks.map(({ landings, hours }) => [String(landings), hours]));
  return {
    orient: 'top',
    title: 'flight hours (h)',
    grid: false,
    labelFlush: false,
    values: marks.map(({ landings }) => landings),
    labelExpr: `${JSON.stringify(names)}[datum.value]`,
  };
}

/** Landings after which so many hours are flown, between two landings as a share. */
function landingsAt(path: readonly LandingHours[], hours: number): number {
  const next = path.findIndex(({ flightHours }) => flightHours >= hours);
  if (next <= 0) return 0;
  const before = path[next - 1]!;
  const after = path[next]!;
  const share = (hours - before.flightHours) / (after.flightHours - before.flightHours);
  return before.landings + share * (after.landings - before.landings);
}

/** The smallest of 1, 2, 5, 10, 20, 50 ... that is not below a number; also 0.5, 0.2, 0.1 ... */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const step = [1, 2, 5, 10].find((factor) => factor * power >= least * (1 - 1e-9));
  return (step ?? 10) * power;
}
