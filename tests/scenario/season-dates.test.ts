import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { compileCalendar, dateText, daysAfter, seasonMonths } from '../../lib/scenario/calendar.js';

const month = (name: string, landings = 3) => ({
  month: name,
  landings,
  flightHours: 3600,
  temperature: 288.15,
});

describe('months of a season', () => {
  test('run from the first month to that of the last landing, over the turn of the year and without gaps', () => {
    const calendar = compileCalendar([month('November'), month('February')]);
    expect(seasonMonths(calendar)).toEqual([
      { name: 'November', fromDay: 0, toDay: 30 },
      { name: 'December', fromDay: 30, toDay: 61 },
      { name: 'January', fromDay: 61, toDay: 92 },
      { name: 'February', fromDay: 92, toDay: 120 },
    ]);
  });

  test('leave out months behind the last landing', () => {
    const calendar = compileCalendar([month('May'), month('June', 0)]);
    expect(seasonMonths(calendar).map(({ name }) => name)).toEqual(['May']);
  });
});

describe('a date', () => {
  const calendar = compileCalendar([month('May'), month('June')]);

  test.each([
    [0, '1 May'],
    [30.99, '31 May'],
    [31, '1 June'],
    [364, '30 April'],
    [365, '1 May'],
    [2 * 365 + 44.5, '14 June'],
  ])('of day %d is %s', (day, text) => {
    expect(dateText(calendar, day)).toBe(text);
  });

  test('of any landing lies in its month', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), (landings) => {
        const inYear = ((landings - 1) % 6) + 1;
        expect(dateText(calendar, daysAfter(calendar, landings))).toMatch(inYear <= 3 ? / May$/ : / June$/);
      }),
    );
  });
});
