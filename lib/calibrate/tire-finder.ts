import { valueText, type Problem } from '../problems.js';
import { dateOfDay } from './dates.js';
import type { KnownNames } from './known-names.js';
import { didYouMean } from './read-cell.js';
import type { RecordRow } from './read-table.js';
import { wheelOf } from './read-tires.js';
import type { TireRecord, WheelPosition } from './record-types.js';

/** The log that rows belong to. */
export interface RowContext {
  readonly firstDay: number;
  readonly lastDay: number;
  readonly names: KnownNames | null;
  readonly problems: Problem[];
}

/** Last day on which a tire was certainly on its wheel: work on that day included. */
export function lastDayOn({ end, fittedDay }: TireRecord): number {
  if (end.kind === 'interval') return end.afterDay;
  return end.kind === 'left' ? fittedDay : end.day;
}

/** Last day on which it may have been. */
export function lastDayPossible({ end }: TireRecord): number {
  return end.kind === 'interval' || end.kind === 'left' ? end.byDay : end.day;
}

/** Finds tires by name, or by wheel and day. */
export class TireFinder {
  private readonly byId: ReadonlyMap<string, TireRecord>;
  private readonly byWheel = new Map<string, TireRecord[]>();
  private readonly ids: readonly string[];
  private readonly airplanes: readonly string[];

  constructor(tires: readonly TireRecord[]) {
    // Of tires with one name the first stands: the other is told apart.
    this.byId = new Map([...tires].reverse().map((tire) => [tire.id, tire]));
    this.ids = tires.map(({ id }) => id);
    this.airplanes = [...new Set(tires.map(({ airplane }) => airplane))];
    for (const tire of tires) {
      const key = wheelKey(tire.airplane, tire.position);
      const list = this.byWheel.get(key);
      if (list === undefined) this.byWheel.set(key, [tire]);
      else list.push(tire);
    }
  }

  /** The tire of a row with a `tire`, or with `airplane` and `position`; null where that is told as a problem. */
  find(row: RecordRow<'pressure'> | RecordRow<'cuts'>, context: RowContext): TireRecord | null {
    const { tire: id, airplane, position, date } = row.cells;
    if (id !== null) {
      const tire = this.named(id, date!, row, context);
      return tire !== null && this.agrees(tire, row, context) ? tire : null;
    }
    const tell = (column: 'airplane' | 'position', details: Parameters<typeof row.problem>[1]): null => {
      context.problems.push(row.problem(column, details));
      return null;
    };
    if (airplane === null || position === null) {
      return tell(airplane === null ? 'airplane' : 'position', {
        found: 'a blank cell',
        allowed: 'expected a tire, or airplane and position',
      });
    }
    if (!this.airplanes.includes(airplane)) return tell('airplane', this.unknownAirplane(airplane));
    const wheel = wheelOf(position, context.names);
    if (typeof wheel !== 'string') return tell('position', wheel);
    const fitted = this.on(airplane, wheel, date!);
    if (fitted.length === 1) return fitted[0]!;
    const found = `${fitted.length === 0 ? 'no tire' : `${fitted.length} tires`} there on ${dateOfDay(date!)}`;
    const suggestion =
      fitted.length > 1 ? 'name the tire: one came off and one was fitted that day' : undefined;
    const details = { found, allowed: 'expected one tire on that wheel on that day' };
    return tell('position', suggestion === undefined ? details : { ...details, suggestion });
  }

  /** A tire by its name, on a day on which it was fitted; null where that is told as a problem. */
  named(
    id: string,
    day: number,
    row: RecordRow<'readings'> | RecordRow<'pressure'> | RecordRow<'cuts'>,
    { problems }: RowContext,
  ): TireRecord | null {
    const tire = this.byId.get(id);
    if (tire === undefined) {
      const suggestion = didYouMean(id, this.ids);
      const details = { found: valueText(id), allowed: 'expected the name of a tire of the log' };
      problems.push(row.problem('tire', suggestion === undefined ? details : { ...details, suggestion }));
      return null;
    }
    const last = lastDayOn(tire);
    if (day >= tire.fittedDay && day <= last) return tire;
    const allowed = `expected a day from ${dateOfDay(tire.fittedDay)} to ${dateOfDay(last)}, when tire ${id} was fitted`;
    problems.push(row.problem('date', { found: dateOfDay(day), allowed }));
    return null;
  }

  /** True where airplane and position, as far as the row has them, are those of the tire; else it is told. */
  private agrees(
    tire: TireRecord,
    row: RecordRow<'pressure'> | RecordRow<'cuts'>,
    { names, problems }: RowContext,
  ): boolean {
    const { airplane, position } = row.cells;
    const tell = (column: 'airplane' | 'position', found: string, is: string): false => {
      const allowed = `expected a blank cell or ${valueText(is)}, where tire ${tire.id} is (line ${tire.place.line})`;
      problems.push(row.problem(column, { found: valueText(found), allowed }));
      return false;
    };
    if (airplane !== null && airplane !== tire.airplane) return tell('airplane', airplane, tire.airplane);
    if (position === null) return true;
    const wheel = wheelOf(position, names);
    if (typeof wheel !== 'string') {
      problems.push(row.problem('position', wheel));
      return false;
    }
    return wheel === tire.position || tell('position', position, tire.position);
  }

  unknownAirplane(airplane: string): Omit<Problem, 'file' | 'line' | 'path'> {
    const suggestion = didYouMean(airplane, this.airplanes);
    const details = { found: valueText(airplane), allowed: 'expected an airplane with tires in the log' };
    return suggestion === undefined ? details : { ...details, suggestion };
  }

  hasAirplane(airplane: string): boolean {
    return this.airplanes.includes(airplane);
  }

  /** Tires on a wheel in the evening of a day, those that came off that day included. */
  private on(airplane: string, position: WheelPosition, day: number): TireRecord[] {
    const tires = this.byWheel.get(wheelKey(airplane, position)) ?? [];
    return tires.filter((tire) => day >= tire.fittedDay && day <= lastDayOn(tire));
  }
}

/** Name of a wheel of an airplane as one text. */
export function wheelKey(airplane: string, position: WheelPosition): string {
  return JSON.stringify([airplane, position]);
}

/** True for a day inside the log; else it is told. */
export function inLog(
  day: number,
  row: RecordRow<'readings'> | RecordRow<'pressure'> | RecordRow<'cuts'> | RecordRow<'flights'>,
  { firstDay, lastDay, problems }: RowContext,
): boolean {
  if (day >= firstDay && day <= lastDay) return true;
  const allowed = `expected a day of the log, ${dateOfDay(firstDay)} to ${dateOfDay(lastDay)}`;
  problems.push((row as RecordRow<'flights'>).problem('date', { found: dateOfDay(day), allowed }));
  return false;
}
