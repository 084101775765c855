import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dayOfDate, lifeRecords, tireHistories, UsageError, type Logbook } from '../../lib/index.js';
import { exposureBetween, indexFlights } from '../../lib/calibrate/exposure.js';
import { readSmall } from './small-log.js';

const day = (text: string): number => dayOfDate(text)!;

describe('what a tire went through', () => {
  const log = readSmall();
  const [l1, l2, r1] = tireHistories(log);

  test('counts flights after the day it was fitted, up to the day it came off', () => {
    expect(l1!.exposure).toEqual({
      afterDay: day('2024-05-01'),
      throughDay: day('2024-06-20'),
      landings: 14,
      flightHours: 11,
      parts: [
        { strip: 'home pavement', surface: null, braking: null, landings: 8, flightHours: 6.5 },
        { strip: 'valley gravel', surface: null, braking: null, landings: 6, flightHours: 4.5 },
      ],
    });
    // Fitted in the evening of 20 June: the one landing of the next day.
    expect(l2!.exposure.landings).toBe(1);
    expect(r1!.exposure.landings).toBe(15);
  });

  test('goes from reading to reading', () => {
    expect(
      l1!.readingDays.map(({ day: at, readings, since }) => [at, readings.length, since.landings]),
    ).toEqual([
      [day('2024-05-01'), 1, 0],
      [day('2024-06-01'), 2, 9],
    ]);
    expect(r1!.readingDays[0]!.since.landings).toBe(9);
    expect(r1!.cuts).toHaveLength(1);
    expect(l1!.pressureChecks).toHaveLength(1);
  });

  test('adds up over any cut of time, and does not depend on the order of rows', () => {
    const flight = fc.record({
      fromDay: fc.integer({ min: 0, max: 60 }),
      length: fc.integer({ min: 0, max: 12 }),
      landings: fc.integer({ min: 0, max: 9 }),
      strip: fc.constantFrom('a', 'b', null),
    });
    fc.assert(
      fc.property(fc.array(flight, { maxLength: 30 }), fc.integer({ min: 0, max: 70 }), (rows, cut) => {
        const flights: Logbook['flights'] = rows.map(({ fromDay, length, landings, strip }, line) => ({
          airplane: 'x',
          fromDay,
          toDay: fromDay + length,
          landings,
          flightHours: landings / 2,
          strip,
          surface: null,
          braking: null,
          place: { file: 'f', line },
        }));
        const index = indexFlights({ flights });
        const all = exposureBetween(index, 'x', -1, 99);
        const before = exposureBetween(index, 'x', -1, cut);
        const after = exposureBetween(index, 'x', cut, 99);
        expect(all.landings).toBe(rows.reduce((sum, { landings }) => sum + landings, 0));
        expect(before.landings + after.landings).toBeCloseTo(all.landings, 9);
        expect(before.flightHours! + after.flightHours!).toBeCloseTo(all.flightHours!, 9);
        expect(all.parts.reduce((sum, { landings }) => sum + landings, 0)).toBeCloseTo(all.landings, 9);
        const turned = exposureBetween(indexFlights({ flights: [...flights].reverse() }), 'x', -1, cut);
        expect(turned.landings).toBeCloseTo(before.landings, 12);
      }),
      { numRuns: 100, seed: 8 },
    );
  });
});

describe('lives', () => {
  const tires = `tire,airplane,position,setup,fitted,removed,removed after,removed by,cause,landings before,hours before [h]
A,mine,left main,soft,2024-05-01,2024-06-01,,,worn,20,15
B,mine,left main,soft,2024-06-01,,2024-06-10,2024-06-20,cut,,
C,mine,right main,soft,2024-05-01,,,2024-06-20,,,
D,mine,nose,soft,2024-05-01,,,,,,
E,mine,left main,soft,2024-06-20,2024-07-01,,,sound,,
`;
  const log = readSmall(
    { 'tires.csv': tires },
    { readings: undefined, pressure: undefined, cuts: undefined },
  );
  const row = (tire: string, from: number, to: number, cause: string | null, entry = 0): object => ({
    tire,
    from,
    to,
    entry,
    count: 1,
    cause,
  });

  test('in landings, with every kind of end', () => {
    expect(lifeRecords(log)).toEqual([
      row('A', 29, 29, 'worn', 20),
      row('B', 0, 5, 'cut'),
      row('C', 0, 14, null),
      row('D', 15, Infinity, null),
      row('E', 1, Infinity, null),
    ]);
  });

  test('in flight hours and in days', () => {
    expect(lifeRecords(log, { unit: 'flight hours' })[0]).toEqual(row('A', 22, 22, 'worn', 15));
    const days = lifeRecords(log, { unit: 'days', which: ({ id }) => id !== 'A' });
    expect(days[0]).toEqual(row('B', 9, 19, 'cut'));
    expect(days[3]).toEqual(row('E', 11, Infinity, null));
  });

  test('of one cause: other ends are censored where the tire was last known to be sound', () => {
    expect(lifeRecords(log, { causes: ['worn'] })).toEqual([
      row('A', 29, 29, 'worn', 20),
      row('B', 0, Infinity, null),
      row('C', 0, Infinity, null),
      row('D', 15, Infinity, null),
      row('E', 1, Infinity, null),
    ]);
  });

  test('that cannot be counted are refused by name', () => {
    expect(() => lifeRecords(log, { unit: 'days' })).toThrow(UsageError);
    expect(() => lifeRecords(log, { unit: 'days' })).toThrow(
      /does not tell the days of tire A: leave them out/,
    );
    expect(() => lifeRecords(log, { which: () => false })).toThrow(/no tire is left/);
  });

  test('as stated, where the log has no flights', () => {
    const stated = `tire,airplane,position,setup,fitted,removed,cause,landings,count
A,mine,left main,soft,2023-05-01,2024-06-01,worn,310,1
B,other,left main,soft,2023-05-01,,,150,4
`;
    const only = { readings: undefined, pressure: undefined, cuts: undefined, flights: undefined };
    expect(lifeRecords(readSmall({ 'tires.csv': stated }, only))).toEqual([
      row('A', 310, 310, 'worn'),
      { ...row('B', 150, Infinity, null), count: 4 },
    ]);
    const untold = stated.replace('worn,310', 'worn,');
    expect(() => readSmall({ 'tires.csv': untold }, only)).toThrow(
      /landings: found a blank cell; expected its landings or hours, as the log has no table of flights/,
    );
  });
});
