import { valueText } from '../problems.js';
import { dateOfDay } from './dates.js';
import type { RecordRow } from './read-table.js';
import { hoursOf, unknownName } from './read-tires.js';
import type { BrakingHabit, FlightRecord } from './record-types.js';
import { inLog, type RowContext, type TireFinder } from './tire-finder.js';

/** A flight row as read, with the hour meter beside it. */
export interface FlightRow {
  readonly record: FlightRecord;
  readonly airframeHours: number | null;
}

/**
 * Makes flying of their rows.
 *
 * @param finder knows the airplanes that have tires; null where tires could not be read.
 */
export function flightsFromRows(
  rows: readonly RecordRow<'flights'>[],
  finder: TireFinder | null,
  context: RowContext,
): FlightRow[] {
  const { names, problems } = context;
  return rows.flatMap((row) => {
    const { cells, place } = row;
    const before = problems.length;
    const fromDay = cells.date!;
    const toDay = cells['to date'] ?? fromDay;
    const begins = inLog(fromDay, row, context);
    if (begins && (toDay < fromDay || toDay > context.lastDay)) {
      const allowed = `expected a day from ${dateOfDay(fromDay)} to ${dateOfDay(context.lastDay)}`;
      problems.push(row.problem('to date', { found: dateOfDay(toDay), allowed }));
    }
    const airplane = cells.airplane!;
    if (finder !== null && !finder.hasAirplane(airplane))
      problems.push(row.problem('airplane', finder.unknownAirplane(airplane)));
    if (names !== null) {
      if (cells.strip !== null && !names.strips.includes(cells.strip)) {
        problems.push(row.problem('strip', unknownName(cells.strip, 'strip', names.strips)));
      }
      if (cells.surface !== null && !names.surfaces.includes(cells.surface)) {
        problems.push(row.problem('surface', unknownName(cells.surface, 'surface', names.surfaces)));
      }
    }
    if (cells.strip !== null && cells.surface !== null) {
      const allowed = 'expected a blank cell: the strip tells its surfaces';
      problems.push(row.problem('surface', { found: valueText(cells.surface), allowed }));
    }
    if (problems.length > before) return [];
    const record: FlightRecord = {
      airplane,
      fromDay,
      toDay,
      landings: cells.landings!,
      flightHours: hoursOf(cells.hours),
      strip: cells.strip,
      surface: cells.surface,
      braking: cells.braking as BrakingHabit | null,
      place,
    };
    return [{ record, airframeHours: hoursOf(cells['airframe hours']) }];
  });
}
