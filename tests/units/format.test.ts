import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { formatQuantity, parseQuantity, suggestUnit, unitNames, type Dimension } from '../../lib/units.js';
import { DIMENSION_NAMES } from '../../lib/units/dimensions.js';

fc.configureGlobal({ seed: 20_260_118 });

function si(text: string, dimension: Dimension): number {
  const read = parseQuantity(text, dimension);
  if (!read.ok) throw new Error(`${text}: ${read.reason}`);
  return read.si;
}

const units = fc
  .constantFrom(...DIMENSION_NAMES)
  .chain((dimension) => fc.constantFrom(...unitNames(dimension)).map((unit) => ({ dimension, unit })));

test('what was read is written as it was', () => {
  const quantities: [string, Dimension, string][] = [
    ['25 psi', 'pressure', 'psi'],
    ['8.5 in', 'length', 'in'],
    ['-10 degF', 'temperature', 'degF'],
    ['15 degC', 'temperature', 'degC'],
    ['7 %', 'share', '%'],
    ['0.35', 'share', ''],
    ['12', 'count', ''],
    ['0.016 /month', 'rate', '/month'],
    ['5 /100 m2', 'perArea', '/100 m2'],
  ];
  for (const [text, dimension, unit] of quantities) {
    expect(formatQuantity(si(text, dimension), dimension, unit)).toBe(text);
  }
});

test('reading what was written gives the same bits, for any number of up to 15 digits in any unit', () => {
  const digits = fc.integer({ min: -(10 ** 15) + 1, max: 10 ** 15 - 1 });
  fc.assert(
    fc.property(
      digits,
      fc.integer({ min: -20, max: 5 }),
      units,
      (mantissa, exponent, { dimension, unit }) => {
        const read = parseQuantity(`${mantissa}e${exponent} ${unit}`, dimension);
        fc.pre(read.ok);
        expect(si(formatQuantity(read.si, dimension, unit), dimension)).toBe(read.si);
      },
    ),
    { numRuns: 2000 },
  );
});

test('reading what was written gives any double back within 1e-15', () => {
  const anyDouble = fc.double({ min: 1e-200, max: 1e200, noNaN: true });
  fc.assert(
    fc.property(anyDouble, units, (value, { dimension, unit }) => {
      // Close to absolute zero a temperature in other scales is a small difference of large numbers.
      const scale = dimension === 'temperature' ? Math.max(value, 500) : value;
      const back = si(formatQuantity(value, dimension, unit), dimension);
      expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-15 * scale);
    }),
    { numRuns: 2000 },
  );
});

test('significant digits are kept as asked, trailing zeros dropped', () => {
  expect(formatQuantity(si('25 psi', 'pressure'), 'pressure', 'bar', 3)).toBe('1.72 bar');
  expect(formatQuantity(0.0254, 'length', 'mm', 6)).toBe('25.4 mm');
  expect(formatQuantity(1 / 3, 'share', '%', 4)).toBe('33.33 %');
});

test('other spellings of a unit can be asked for', () => {
  expect(formatQuantity(86_400, 'duration', 'day')).toBe('1 days');
});

test('a value that is not finite or a unit of another dimension is refused', () => {
  expect(() => formatQuantity(NaN, 'pressure', 'psi')).toThrow(
    new RangeError('cannot write NaN as a pressure'),
  );
  expect(() => formatQuantity(1, 'pressure', 'in')).toThrow(
    new RangeError('"in" is not a unit of a pressure'),
  );
});

describe('a slip of the unit is guessed from the plausible range', () => {
  const [minPa, maxPa] = [si('3 psi', 'pressure'), si('120 psi', 'pressure')];
  test.each<[string, string | null]>([
    ['25 bar', '25 psi'],
    ['25', '25 psi'],
    ['25 in', '25 psi'],
    ['25 pounds', '25 psi'],
    ['2 psi', '2 bar'],
    ['200 psi', '200 kPa'],
    ['50000 psi', '50000 Pa'],
    ['1e9 psi', null],
    ['soft', null],
    [`${'9'.repeat(101)} psi`, null],
  ])('%s as a tire pressure', (text, expected) => {
    expect(suggestUnit(text, 'pressure', minPa, maxPa)).toBe(expected);
  });

  test('only one unit may fit', () => {
    expect(suggestUnit('14 psi', 'pressure', 10_000, 20_000)).toBe('14 kPa');
    expect(suggestUnit('35', 'share', 0, 1)).toBe('35 %');
    expect(suggestUnit('8/32 cm', 'length', 0.003, 0.0254)).toBe('8/32 in');
    expect(suggestUnit('5/100 mi', 'perArea', 0, 0.1)).toBe('5/100 /m2');
  });

  test('a guess is always within the range and keeps the number', () => {
    const dimensions = fc.constantFrom(...DIMENSION_NAMES);
    const numbers = fc.double({ min: 0.001, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(numbers, units, dimensions, numbers, (value, { unit }, dimension, low) => {
        const guess = suggestUnit(`${value} ${unit}`, dimension, low, 100 * low);
        if (guess === null) return;
        expect(guess.startsWith(String(value))).toBe(true);
        expect(si(guess, dimension)).toBeGreaterThanOrEqual(low);
        expect(si(guess, dimension)).toBeLessThanOrEqual(100 * low);
      }),
    );
  });
});

test('a decimal comma is mended, not cut, and the unit of a rate is not guessed', () => {
  expect(suggestUnit('1,7 bar', 'pressure', 20_000, 1_000_000)).toBe('1.7 bar');
  expect(suggestUnit('6,5 mm', 'length', 0, 0.025)).toBe('6.5 mm');
  expect(suggestUnit('0.5', 'rate', 0, 1)).toBeNull();
  expect(suggestUnit('0.5 per year', 'rate', 0, 1)).toBeNull();
});
