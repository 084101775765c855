import { valueText, type Problem } from '../problems.js';
import { problemAtRow } from './check-tires.js';
import { dateOfDay } from './dates.js';
import type { FlightRow } from './read-flights.js';
import type { FlightRecord } from './record-types.js';

/** Rounding of one entry of hours, to a tenth either way, in the log or on the meter. */
const HOURS_ROUNDING = 0.05;

function periodText({ fromDay, toDay }: FlightRecord): string {
  return fromDay === toDay ? dateOfDay(fromDay) : `${dateOfDay(fromDay)} to ${dateOfDay(toDay)}`;
}

/**
 * Rows twice, periods that overlap in part, and an hour meter that contradicts the rows.
 *
 * @param rows as read.
 * @param allRead false where a row could not be read: hours without it say nothing about the meter.
 * @param problems what is wrong is added here.
 */
export function checkFlights(rows: readonly FlightRow[], allRead: boolean, problems: Problem[]): void {
  const byAirplane = new Map<string, FlightRow[]>();
  for (const row of rows) {
    const list = byAirplane.get(row.record.airplane);
    if (list === undefined) byAirplane.set(row.record.airplane, [row]);
    else list.push(row);
  }
  for (const list of byAirplane.values()) {
    checkRepeats(list, problems);
    checkOverlaps(list, problems);
    if (allRead) checkMeter(list, problems);
  }
}

function checkRepeats(rows: readonly FlightRow[], problems: Problem[]): void {
  const seen = new Map<string, number>();
  for (const { record } of rows) {
    const { fromDay, toDay, strip, surface, braking, place } = record;
    const key = JSON.stringify([fromDay, toDay, strip, surface, braking]);
    const earlier = seen.get(key);
    if (earlier === undefined) seen.set(key, place.line);
    else {
      problems.push(
        problemAtRow(place, 'date', {
          found: `${periodText(record)} on ${strip ?? surface ?? 'ground not told'}, as in line ${earlier}`,
          allowed: 'expected one row per airplane, day and place',
          suggestion: 'add the landings up in one row',
        }),
      );
    }
  }
}

/** Periods must be the same or apart: what overlaps in part may count flights twice. */
function checkOverlaps(rows: readonly FlightRow[], problems: Problem[]): void {
  const inOrder = rows
    .map(({ record }) => record)
    .sort((one, other) => one.fromDay - other.fromDay || other.toDay - one.toDay);
  let reach: FlightRecord | undefined;
  for (const record of inOrder) {
    const same = reach !== undefined && record.fromDay === reach.fromDay && record.toDay === reach.toDay;
    if (reach !== undefined && !same && record.fromDay <= reach.toDay) {
      problems.push(
        problemAtRow(record.place, 'date', {
          found: periodText(record),
          allowed: `expected no days of ${periodText(reach)} (line ${reach.place.line}): landings may be counted twice`,
        }),
      );
    }
    if (reach === undefined || record.toDay > reach.toDay) reach = record;
  }
}

/** Hours between two readings of the meter must be those of the rows between them. */
function checkMeter(rows: readonly FlightRow[], problems: Problem[]): void {
  const inOrder = [...rows].sort(
    (one, other) =>
      one.record.toDay - other.record.toDay || (one.airframeHours ?? 0) - (other.airframeHours ?? 0),
  );
  let last: { readonly hours: number; readonly record: FlightRecord } | null = null;
  let flown: number | null = 0;
  let entries = 0;
  for (const { record, airframeHours } of inOrder) {
    flown = flown === null || record.flightHours === null ? null : flown + record.flightHours;
    entries++;
    if (airframeHours === null) continue;
    if (last !== null) {
      const passed = airframeHours - last.hours;
      const since = `since ${dateOfDay(last.record.toDay)} (line ${last.record.place.line})`;
      const slack = HOURS_ROUNDING * (entries + 2);
      const tell = (allowed: string): void => {
        const found = `${valueText(airframeHours)} h`;
        problems.push(problemAtRow(record.place, 'airframe hours', { found, allowed }));
      };
      if (passed < 0) tell(`expected at least ${last.hours} h: the meter does not go back ${since}`);
      else if (flown !== null && Math.abs(passed - flown) > slack) {
        const [meter, log] = [passed.toFixed(1), flown.toFixed(1)];
        const missing = passed > flown ? 'flights are missing' : 'flights are told twice';
        tell(`the meter moved ${meter} h ${since} and the rows add to ${log} h: ${missing}`);
      }
    }
    last = { hours: airframeHours, record };
    flown = 0;
    entries = 0;
  }
}
