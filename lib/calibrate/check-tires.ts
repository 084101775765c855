import type { Problem } from '../problems.js';
import { dateOfDay } from './dates.js';
import { lastDayOn, wheelKey } from './tire-finder.js';
import type { RecordPlace, TireRecord } from './record-types.js';

/** A problem at the row of a record. */
export function problemAtRow(
  place: RecordPlace,
  path: string,
  details: Omit<Problem, 'file' | 'line' | 'path' | 'column'>,
): Problem {
  return { ...place, path, ...details };
}

/** Tires of the same name, and two tires on one wheel at a time. */
export function checkTires(
  tires: readonly TireRecord[],
  firstDay: number,
  withFlights: boolean,
  problems: Problem[],
): void {
  const seen = new Map<string, TireRecord>();
  const onWheel = new Map<string, TireRecord[]>();
  for (const tire of tires) {
    const twin = seen.get(tire.id);
    if (twin === undefined) seen.set(tire.id, tire);
    else {
      problems.push(
        problemAtRow(tire.place, 'tire', {
          found: `the tire of line ${twin.place.line} again`,
          allowed: 'expected each tire once',
          suggestion: 'give a tire that was fitted a second time another name, with its landings before',
        }),
      );
    }
    if (withFlights && tire.fittedDay < firstDay) {
      problems.push(
        problemAtRow(tire.place, 'fitted', {
          found: dateOfDay(tire.fittedDay),
          allowed: `expected a day of the log, from ${dateOfDay(firstDay)} on: its flights before are not in it`,
          suggestion: 'write the first day of the log, and under "landings before" what it had done by then',
        }),
      );
    }
    const key = wheelKey(tire.airplane, tire.position);
    const list = onWheel.get(key);
    // Rows of several tires, and ends that are known only roughly, say too little to contradict another row.
    if (tire.count > 1) continue;
    if (list === undefined) onWheel.set(key, [tire]);
    else list.push(tire);
  }
  for (const list of onWheel.values()) checkWheel(list, problems);
}

function checkWheel(tires: readonly TireRecord[], problems: Problem[]): void {
  const inOrder = [...tires].sort(
    (one, other) => one.fittedDay - other.fittedDay || lastDayOn(one) - lastDayOn(other),
  );
  let before: TireRecord | undefined;
  for (const tire of inOrder) {
    if (before !== undefined && tire.fittedDay < lastDayOn(before)) {
      problems.push(
        problemAtRow(tire.place, 'fitted', {
          found: dateOfDay(tire.fittedDay),
          allowed: `tire ${before.id} is on that wheel up to ${dateOfDay(lastDayOn(before))} (line ${before.place.line})`,
        }),
      );
    }
    if (before === undefined || lastDayOn(tire) >= lastDayOn(before)) before = tire;
  }
}
