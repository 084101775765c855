import { valueText, type Problem } from '../problems.js';
import type { KnownNames } from './known-names.js';
import { dateOfDay } from './dates.js';
import { choiceText, didYouMean } from './read-cell.js';
import type { RecordRow } from './read-table.js';
import type { FailureCause, TireEnd, TireRecord, WheelPosition } from './record-types.js';
import { SOUND } from './table-columns.js';

type Row = RecordRow<'tires'>;
type Details = Omit<Problem, 'file' | 'line' | 'path'>;

const HOUR_S = 3600;
const IN_SERVICE = 'in service';

/** Hours of a duration in seconds; null stays. */
export function hoursOf(seconds: number | null): number | null {
  return seconds === null ? null : seconds / HOUR_S;
}

/** Details of a name that the scenario does not have. */
export function unknownName(name: string, kind: string, names: readonly string[]): Details {
  const suggestion = didYouMean(name, names);
  const allowed = `expected the name of a ${kind} of the scenario: ${choiceText(names.slice(0, 12))}`;
  return suggestion === undefined
    ? { found: valueText(name), allowed }
    : { found: valueText(name), allowed, suggestion };
}

/** The wheel that a word of the shop stands for, or what is wrong with it. */
export function wheelOf(word: string, names: KnownNames | null): WheelPosition | Details {
  if (word === 'left main' || word === 'right main' || word === 'third') return word;
  if (names === null || word === names.thirdWheel) return 'third';
  const allowed = `the airplane of the scenario has a ${names.thirdWheel} wheel`;
  return { found: valueText(word), allowed, suggestion: `did you mean "${names.thirdWheel}"?` };
}

/** What is wrong with one row; the first thing found about its end is told. */
class TireReader {
  private readonly row: Row;
  private readonly problems: Problem[];
  private readonly lastDay: number;

  constructor(row: Row, lastDay: number, problems: Problem[]) {
    this.row = row;
    this.problems = problems;
    this.lastDay = lastDay;
  }

  private tell(column: keyof Row['cells'], details: Details): null {
    this.problems.push(this.row.problem(column, details));
    return null;
  }

  private tellDay(column: keyof Row['cells'], day: number, allowed: string): null {
    return this.tell(column, { found: dateOfDay(day), allowed });
  }

  /** How the tire ended, or null where that is told as a problem. */
  end(fittedDay: number): TireEnd | null {
    const { removed, 'removed after': after, 'removed by': by, 'last seen': seen } = this.row.cells;
    const filled = [removed ?? null, by ?? after, seen].filter((day) => day !== null).length;
    if (filled > 1) {
      return this.tell('removed', {
        found: 'several ways to end',
        allowed: 'expected "removed", or "removed after" and "removed by", or "last seen", or all blank',
      });
    }
    for (const column of ['removed', 'removed after', 'removed by', 'last seen'] as const) {
      const day = this.row.cells[column];
      if (day === null) continue;
      if (day > this.lastDay) {
        return this.tellDay(
          column,
          day,
          `expected a day up to the end of the log, ${dateOfDay(this.lastDay)}`,
        );
      }
      if (day < fittedDay) {
        return this.tellDay(
          column,
          day,
          `expected a day from ${dateOfDay(fittedDay)} on, when it was fitted`,
        );
      }
    }
    if (removed !== null) return this.removed(removed);
    if (by !== null) return this.between(after, by);
    if (after !== null) {
      return this.tell('removed by', {
        found: 'a blank cell',
        allowed: 'expected the day by which it had failed',
        suggestion: 'put the day under "last seen" if it had not failed',
      });
    }
    const { cause } = this.row.cells;
    if (cause === null || cause === IN_SERVICE) {
      return { kind: 'right', day: seen ?? this.lastDay, reason: 'in service' };
    }
    return this.tell('cause', {
      found: valueText(cause),
      allowed: 'expected a blank cell, as there is no day on which it came off',
    });
  }

  private removed(day: number): TireEnd | null {
    const { cause } = this.row.cells;
    if (cause === SOUND) return { kind: 'right', day, reason: 'sound' };
    if (cause === null || cause === IN_SERVICE) {
      return this.tell('cause', {
        found: cause === null ? 'a blank cell' : valueText(cause),
        allowed: 'expected why it came off: "worn", "cut", "puncture", "pressure", "age" or "sound"',
      });
    }
    return { kind: 'exact', day, cause: cause as FailureCause };
  }

  private between(afterDay: number | null, byDay: number): TireEnd | null {
    const { cause } = this.row.cells;
    if (cause === SOUND || cause === IN_SERVICE) {
      return this.tell('cause', {
        found: valueText(cause),
        allowed: 'expected why it failed, or a blank cell: it failed between two days',
      });
    }
    const why = cause as FailureCause | null;
    if (afterDay === null) return { kind: 'left', byDay, cause: why };
    if (afterDay > byDay) {
      return this.tellDay('removed by', byDay, `expected a day after ${dateOfDay(afterDay)}`);
    }
    return { kind: 'interval', afterDay, byDay, cause: why };
  }

  /** Set-up and class, or null where one is told as a problem. */
  equipment(
    position: WheelPosition,
    names: KnownNames | null,
  ): { setup: string | null; tireClass: string | null } | null {
    const { setup, class: tireClass } = this.row.cells;
    if (names === null) return { setup, tireClass };
    if (setup !== null && !names.setups.includes(setup)) {
      return this.tell('setup', unknownName(setup, 'set-up', names.setups));
    }
    if (tireClass !== null && !names.classes.includes(tireClass)) {
      return this.tell('class', unknownName(tireClass, 'tire', names.classes));
    }
    if (setup === null && tireClass === null) {
      return this.tell('setup', { found: 'a blank cell', allowed: 'expected a set-up, or a class of tire' });
    }
    return { setup, tireClass: tireClass ?? names.classOf(setup!, position === 'third') };
  }
}

/**
 * Makes tires of their rows.
 *
 * @param rows as read.
 * @param lastDay last day of the log.
 * @param names names of the scenario; null: names are not checked.
 * @param problems what is wrong is added here.
 */
export function tiresFromRows(
  rows: readonly Row[],
  lastDay: number,
  names: KnownNames | null,
  problems: Problem[],
): TireRecord[] {
  return rows.flatMap((row) => {
    const { cells, place } = row;
    const reader = new TireReader(row, lastDay, problems);
    const fittedDay = cells.fitted!;
    if (fittedDay > lastDay) {
      const allowed = `expected a day up to the end of the log, ${dateOfDay(lastDay)}`;
      problems.push(row.problem('fitted', { found: dateOfDay(fittedDay), allowed }));
      return [];
    }
    const position = wheelOf(cells.position!, names);
    if (typeof position !== 'string') problems.push(row.problem('position', position));
    const end = reader.end(fittedDay);
    if (typeof position !== 'string' || end === null) return [];
    const equipment = reader.equipment(position, names);
    if (equipment === null) return [];
    const landingsBefore = cells['landings before'] ?? 0;
    const tire: TireRecord = {
      id: cells.tire!,
      airplane: cells.airplane!,
      position,
      ...equipment,
      fittedDay,
      landingsBefore,
      flightHoursBefore: hoursOf(cells['hours before']) ?? (landingsBefore === 0 ? 0 : null),
      end,
      landingsStated: cells.landings,
      flightHoursStated: hoursOf(cells.hours),
      count: cells.count ?? 1,
      place,
    };
    return [tire];
  });
}
