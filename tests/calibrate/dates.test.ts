import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dateOfDay, dayOfDate } from '../../lib/index.js';

test.each([
  ['1970-01-01', 0],
  ['1970-01-02', 1],
  ['1969-12-31', -1],
  // 30 years with 7 leap days.
  ['2000-01-01', 30 * 365 + 7],
  ['2000-02-29', 30 * 365 + 7 + 31 + 28],
  ['1900-01-01', -(70 * 365 + 17)],
])('%s is day %d', (text, day) => {
  expect(dayOfDate(text)).toBe(day);
  expect(dateOfDay(day)).toBe(text);
});

test.each([
  '2023-02-29',
  '1900-02-29',
  '2024-13-01',
  '2024-00-10',
  '2024-1-1',
  '24-01-01',
  '2024-01-01T00:00',
  '',
])('"%s" is no date', (text) => {
  expect(dayOfDate(text)).toBeNull();
});

test('days and dates are one to one, and dates sort as days do', () => {
  const days = fc.integer({ min: -25567, max: 2932896 });
  fc.assert(
    fc.property(days, days, (one, other) => {
      expect(dayOfDate(dateOfDay(one))).toBe(one);
      expect(dateOfDay(one) < dateOfDay(other)).toBe(one < other);
    }),
    { seed: 3 },
  );
});

test('no day is half a day', () => {
  expect(() => dateOfDay(0.5)).toThrow(/whole number of days; found 0.5/);
  expect(() => dateOfDay(1e12)).toThrow(RangeError);
});
