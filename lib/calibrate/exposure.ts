import type { Exposure, ExposurePart, FlightRecord, Logbook } from './record-types.js';

/** Flying of each airplane in order of time, made once for many questions. */
export type FlightIndex = ReadonlyMap<string, readonly FlightRecord[]>;

/**
 * Sorts flying by airplane and day.
 *
 * @param logbook the log.
 */
export function indexFlights({ flights }: Pick<Logbook, 'flights'>): FlightIndex {
  const index = new Map<string, FlightRecord[]>();
  for (const flight of flights) {
    const list = index.get(flight.airplane);
    if (list === undefined) index.set(flight.airplane, [flight]);
    else list.push(flight);
  }
  // The order within a day does not matter to any sum, but to its last bit: make it independent of the order of rows.
  const key = ({ strip, surface, braking }: FlightRecord): string =>
    JSON.stringify([strip, surface, braking]);
  for (const list of index.values()) {
    list.sort(
      (one, other) =>
        one.fromDay - other.fromDay || one.toDay - other.toDay || (key(one) < key(other) ? -1 : 1),
    );
  }
  return index;
}

/** Share of a row's days within a span; rows of one day are in or out. */
function shareWithin({ fromDay, toDay }: FlightRecord, afterDay: number, throughDay: number): number {
  const days = Math.min(toDay, throughDay) - Math.max(fromDay, afterDay + 1) + 1;
  return days <= 0 ? 0 : days / (toDay - fromDay + 1);
}

const plus = (sum: number | null, hours: number | null, share: number): number | null =>
  sum === null || hours === null ? null : sum + share * hours;

/**
 * What an airplane did from the evening of one day to the evening of another one.
 *
 * @param index flying by airplane.
 * @param airplane name of the airplane.
 * @param afterDay day number; flights of that day are left out.
 * @param throughDay day number; flights of that day count. Before or equal to `afterDay`: nothing was done.
 * @returns landings and hours by place.
 */
export function exposureBetween(
  index: FlightIndex,
  airplane: string,
  afterDay: number,
  throughDay: number,
): Exposure {
  const rows = index.get(airplane) ?? [];
  const parts = new Map<string, ExposurePart>();
  let landings = 0;
  let flightHours: number | null = 0;
  for (const row of rows) {
    if (row.fromDay > throughDay) break;
    const share = shareWithin(row, afterDay, throughDay);
    if (share === 0) continue;
    const { strip, surface, braking } = row;
    const key = JSON.stringify([strip, surface, braking]);
    const part = parts.get(key) ?? { strip, surface, braking, landings: 0, flightHours: 0 };
    parts.set(key, {
      ...part,
      landings: part.landings + share * row.landings,
      flightHours: plus(part.flightHours, row.flightHours, share),
    });
    landings += share * row.landings;
    flightHours = plus(flightHours, row.flightHours, share);
  }
  return { afterDay, throughDay, landings, flightHours, parts: [...parts.values()] };
}

/** A row over several days that a day's work cuts in two, or null. */
export function periodCutBy(index: FlightIndex, airplane: string, day: number): FlightRecord | null {
  return (index.get(airplane) ?? []).find(({ fromDay, toDay }) => fromDay <= day && toDay > day) ?? null;
}
