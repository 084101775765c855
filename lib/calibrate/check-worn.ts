import type { Problem } from '../problems.js';
import { formatQuantity } from '../units.js';
import { grooveText, readingVariance } from './check-readings.js';
import { problemAtRow } from './check-tires.js';
import { dateOfDay } from './dates.js';
import { exposureBetween, indexFlights } from './exposure.js';
import type { KnownNames } from './known-names.js';
import type { ReadingRow } from './read-rows.js';
import { lastDayPossible } from './tire-finder.js';
import type { Logbook, TireRecord } from './record-types.js';

/** Groove left beyond the limit, in standard errors of the reading, that a reader should know of. */
const CLEAR_ERRORS = 3;
/** Wear since the last reading may have been this many times faster than before it. */
const FASTER = 2;

const mm = (metres: number): string => formatQuantity(metres, 'length', 'mm', 3);

/**
 * Tires taken off as worn although much groove was left when they were last read.
 *
 * What may have worn since is counted: the wear up to that reading, by landings (without flights by days), at twice its
 * pace. Nothing is said where the pace is not known: of a tire that had flown before and was read once.
 *
 * @param logbook all records.
 * @param rows its readings with what stands in the file.
 * @param names names of the scenario, with its limit.
 * @param withFlights true if the log has a table of flights.
 * @returns a remark for each such tire.
 */
export function remarksOnWorn(
  logbook: Logbook,
  rows: readonly ReadingRow[],
  names: KnownNames,
  withFlights: boolean,
): Problem[] {
  const index = indexFlights(logbook);
  const readingsOf = new Map<string, ReadingRow[]>();
  for (const row of rows) {
    const list = readingsOf.get(row.record.tire);
    if (list === undefined) readingsOf.set(row.record.tire, [row]);
    else list.push(row);
  }
  return logbook.tires.flatMap((tire): Problem[] => {
    const { end, airplane } = tire;
    if (end.kind === 'right' || end.cause !== 'worn') return [];
    const span = (fromDay: number, toDay: number): number =>
      withFlights ? exposureBetween(index, airplane, fromDay, toDay).landings : toDay - fromDay;
    const least = lastLeast(readingsOf.get(tire.id) ?? []);
    if (least === null) return [];
    const { grooveM, day, place } = least.record;
    const paceM = paceOf(tire, least, readingsOf.get(tire.id)!, names, span);
    if (paceM === null) return [];
    const left = grooveM - FASTER * paceM * span(day, lastDayPossible(tire)) - names.wornGrooveM;
    if (left <= CLEAR_ERRORS * Math.sqrt(readingVariance(least.record))) return [];
    const read = `${grooveText(least)} of groove read on ${dateOfDay(day)} (${place.file}, line ${place.line})`;
    const limit =
      names.wornGrooveM === 0 ? 'no groove is left' : `the groove is down to ${mm(names.wornGrooveM)}`;
    return [
      problemAtRow(tire.place, 'cause', {
        found: `taken off as worn with ${read}`,
        allowed: `in the scenario a tire is worn when ${limit}: look whether cause, tire and reading are right`,
      }),
    ];
  });
}

/** The least groove of the last day on which the tire was read; the later row of equals. */
function lastLeast(rows: readonly ReadingRow[]): ReadingRow | null {
  const lastDay = rows.reduce((latest, { record }) => Math.max(latest, record.day), -Infinity);
  return rows
    .filter(({ record }) => record.day === lastDay)
    .reduce<ReadingRow | null>(
      (least, row) => (least === null || row.record.grooveM <= least.record.grooveM ? row : least),
      null,
    );
}

/** Groove lost by a landing (or day) before the reading, m, 0 or more; null where that is not known. */
function paceOf(
  { fittedDay, landingsBefore, tireClass }: TireRecord,
  { record: { day, band, grooveM } }: ReadingRow,
  rows: readonly ReadingRow[],
  names: KnownNames,
  span: (fromDay: number, toDay: number) => number,
): number | null {
  const isNew = landingsBefore === 0 && tireClass !== null;
  const first = isNew
    ? { day: fittedDay, grooveM: names.newGrooveM(tireClass) }
    : rows
        .map(({ record }) => record)
        .filter((record) => record.band === band && record.day < day)
        .sort((one, other) => one.day - other.day)[0];
  if (first === undefined) return null;
  const use = span(first.day, day);
  return use > 0 ? Math.max(0, (first.grooveM - grooveM) / use) : null;
}
