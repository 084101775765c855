import { exposureBetween, indexFlights, type FlightIndex } from './exposure.js';
import { lastDayOn } from './tire-finder.js';
import type { Logbook, ReadingDay, TireHistory, TireRecord, TreadReadingRecord } from './record-types.js';

function groupBy<Item>(items: readonly Item[], keyOf: (item: Item) => string): Map<string, Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const key = keyOf(item);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [item]);
    else group.push(item);
  }
  return groups;
}

function readingDays(
  tire: TireRecord,
  readings: readonly TreadReadingRecord[],
  index: FlightIndex,
): ReadingDay[] {
  const days = [...new Set(readings.map(({ day }) => day))].sort((one, other) => one - other);
  return days.map((day, i) => ({
    day,
    readings: readings.filter((reading) => reading.day === day),
    since: exposureBetween(index, tire.airplane, days[i - 1] ?? tire.fittedDay, day),
  }));
}

/**
 * Every tire with all that the log tells of it.
 *
 * @param logbook a checked log.
 * @returns one history per tire, in the order of the log.
 */
export function tireHistories(logbook: Logbook): TireHistory[] {
  const index = indexFlights(logbook);
  const readings = groupBy(logbook.readings, ({ tire }) => tire);
  const checks = groupBy(logbook.pressureChecks, ({ tire }) => tire);
  const cuts = groupBy(logbook.cuts, ({ tire }) => tire);
  const byDay = (one: { readonly day: number }, other: { readonly day: number }): number =>
    one.day - other.day;
  return logbook.tires.map((tire) => {
    const last = lastDayOn(tire);
    const { end, airplane, fittedDay, id } = tire;
    return {
      tire,
      readingDays: readingDays(tire, readings.get(id) ?? [], index),
      pressureChecks: [...(checks.get(id) ?? [])].sort(byDay),
      cuts: [...(cuts.get(id) ?? [])].sort(byDay),
      exposure: exposureBetween(index, airplane, fittedDay, last),
      doubtful:
        end.kind === 'interval' || end.kind === 'left'
          ? exposureBetween(index, airplane, last, end.byDay)
          : null,
    };
  });
}
