import type { RecordRow } from './read-table.js';
import type { CutRecord, PressureCheckRecord, ReadingBand, TreadReadingRecord } from './record-types.js';
import { inLog, type RowContext, type TireFinder } from './tire-finder.js';

/** A reading as read, with its groove as it stands in the file where that is not in mm. */
export interface ReadingRow {
  readonly record: TreadReadingRecord;
  readonly written: string | null;
}

/**
 * Makes tread readings of their rows.
 *
 * @param finder finds tires; null where they could not be read: then only what needs none is checked, here and below.
 */
export function readingsFromRows(
  rows: readonly RecordRow<'readings'>[],
  finder: TireFinder | null,
  context: RowContext,
): ReadingRow[] {
  const seen = new Map<string, number>();
  return rows.flatMap((row) => {
    const { cells, place } = row;
    const day = cells.date!;
    if (!inLog(day, row, context) || finder === null) return [];
    const tire = finder.named(cells.tire!, day, row, context);
    if (tire === null) return [];
    if (tire.count > 1) {
      const allowed = 'expected a single tire: readings cannot be told apart in a row of several';
      context.problems.push(row.problem('tire', { found: `${tire.count} tires`, allowed }));
      return [];
    }
    const key = JSON.stringify([tire.id, day, cells.band, cells.repeat ?? 1]);
    const earlier = seen.get(key);
    if (earlier !== undefined) {
      context.problems.push(
        row.problem('band', {
          found: `a reading that line ${earlier} has already`,
          allowed: 'expected one reading per tire, day and band',
          suggestion: 'number repeated readings in a column "repeat"',
        }),
      );
      return [];
    }
    seen.set(key, place.line);
    const reading: TreadReadingRecord = {
      tire: tire.id,
      day,
      band: cells.band as ReadingBand,
      grooveM: cells.groove!,
      errorM: cells.error,
      stepM: cells.step,
      place,
    };
    return [{ record: reading, written: row.written('groove') }];
  });
}

/** Makes pressure checks of their rows. */
export function checksFromRows(
  rows: readonly RecordRow<'pressure'>[],
  finder: TireFinder | null,
  context: RowContext,
): PressureCheckRecord[] {
  const seen = new Map<string, number>();
  return rows.flatMap((row) => {
    const { cells, place } = row;
    const day = cells.date!;
    if (!inLog(day, row, context) || finder === null) return [];
    const tire = finder.find(row, context);
    if (tire === null) return [];
    const key = JSON.stringify([tire.id, day]);
    const earlier = seen.get(key);
    if (earlier !== undefined) {
      const found = `a check that line ${earlier} has already`;
      const allowed = 'expected one check per tire and day: what was found first and set last';
      context.problems.push(row.problem('date', { found, allowed }));
      return [];
    }
    seen.set(key, place.line);
    const check: PressureCheckRecord = {
      tire: tire.id,
      day,
      foundPa: cells.found!,
      setPa: cells.set,
      temperatureK: cells.temperature,
      elevationM: cells.elevation,
      place,
    };
    return [check];
  });
}

/** Makes cuts of their rows. */
export function cutsFromRows(
  rows: readonly RecordRow<'cuts'>[],
  finder: TireFinder | null,
  context: RowContext,
): CutRecord[] {
  return rows.flatMap((row) => {
    const { cells, place } = row;
    if (!inLog(cells.date!, row, context) || finder === null) return [];
    const tire = finder.find(row, context);
    if (tire === null) return [];
    const where = cells.place as CutRecord['where'];
    return [{ tire: tire.id, day: cells.date!, depthM: cells.depth, where, place }];
  });
}
