import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spread } from '../../lib/chart/end-labels.js';
import { amountText, oneInText, percentSpan, seasonsText, spanText } from '../../lib/chart/figures.js';
import { linesByPlace, nameLines, shortName } from '../../lib/chart/labels.js';
import { amountRange, logRange, logTicks } from '../../lib/chart/log-axis.js';
import { HARD_NAMES } from './made-result.js';
import { loadTextMeasure } from '../../lib/chart/font.js';

describe('chances as people say them', () => {
  test.each([
    [0, 'none', 'no season'],
    [1e-9, 'under 1 in 1,000,000', 'under 1 season in 1,000,000'],
    [0.0000137, '1 in 73,000', '1 season in 73,000'],
    [0.003, '1 in 330', '1 season in 330'],
    [0.0127, '1 in 79', '1 season in 79'],
    [0.19, '1 in 5', '1 season in 5'],
    [0.38, '4 in 10', '4 seasons in 10'],
    [0.94, '9 in 10', '9 seasons in 10'],
    [0.97, 'nearly all', 'nearly every season'],
    [1, 'nearly all', 'nearly every season'],
  ])('%d', (chance, often, seasons) => {
    expect(oneInText(chance)).toBe(often);
    expect(seasonsText(chance)).toBe(seasons);
  });

  test('never lie by more than a fifth', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 0.9499, noNaN: true }), (chance) => {
        const [count, among] = oneInText(chance).replaceAll(',', '').split(' in ').map(Number);
        expect(Math.abs(count! / among! / chance - 1)).toBeLessThan(0.2);
      }),
    );
  });
});

test('amounts and spans', () => {
  expect(amountText(1356.4)).toBe('1,356');
  expect(amountText(1234567)).toBe('1,234,567');
  expect(amountText(95.88)).toBe('95.9');
  expect(amountText(0.1234)).toBe('0.12');
  expect(spanText(950, 1935)).toBe('950 to 1,935');
  expect(spanText(950, null)).toBe('950 to beyond the horizon');
  expect(spanText(null, null)).toBe('beyond the horizon');
  expect(percentSpan(0.0015, 0.0048)).toBe('0.15 to 0.48 %');
  expect(percentSpan(0, 0)).toBe('0 %');
});

const name = fc.oneof(
  fc.string({ unit: 'binary', minLength: 1, maxLength: 60 }),
  fc.constantFrom(...HARD_NAMES),
);

describe('names in lines', () => {
  test('keep every letter', () => {
    fc.assert(
      fc.property(name, fc.integer({ min: 40, max: 300 }), (text, roomPx) => {
        // Controls become blanks, and a blank may be where a line ends.
        const letters = (each: string): string => each.replaceAll(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp} ]/gu, '');
        expect(letters(nameLines(text, roomPx).join(''))).toBe(letters(text));
      }),
    );
  });

  test('fit the room in the font of the pictures', async () => {
    const measure = await loadTextMeasure();
    const texts = [
      ...HARD_NAMES,
      'i'.repeat(60),
      'ffffttttrrrr',
      '0123456789',
      'QOGDQOGD',
      'half rough, half paved',
    ];
    for (const text of texts) {
      for (const roomPx of [82, 170, 250]) {
        for (const line of nameLines(text, roomPx)) {
          expect(measure({ fontSize: 12 }, line), `${line} in ${roomPx} px`).toBeLessThanOrEqual(roomPx);
        }
      }
    }
  });

  test('become data of an expression, whatever they hold', () => {
    for (const text of HARD_NAMES) {
      const expression = linesByPlace([text], 170);
      expect(expression.endsWith('[datum.value]')).toBe(true);
      expect(JSON.parse(expression.slice(0, -'[datum.value]'.length))).toEqual([nameLines(text, 170)]);
    }
  });

  test('are cut only in titles, at whole characters', () => {
    expect(shortName('soft 29', 7)).toBe('soft 29');
    expect(shortName('soft 29 deep', 9)).toBe('soft 29…');
    expect(shortName('🛞🛞🛞', 2)).toBe('🛞…');
  });
});

describe('log axes', () => {
  const spans = fc.tuple(
    fc.double({ min: -6, max: 4, noNaN: true }),
    fc.double({ min: 0.1, max: 9, noNaN: true }),
  );

  test('have ticks inside, rising, at round numbers and far enough apart', () => {
    fc.assert(
      fc.property(spans, fc.integer({ min: 100, max: 600 }), ([from, decades], widthPx) => {
        const [low, high] = [10 ** from, 10 ** (from + decades)];
        const ticks = logTicks(low, high, widthPx, 40);
        const places = ticks.map((tick) => (widthPx * Math.log10(tick / low)) / decades);
        places.forEach((place, index) => {
          expect(place).toBeGreaterThanOrEqual(-1e-6);
          expect(place).toBeLessThanOrEqual(widthPx + 1e-6);
          if (index > 0) expect(place - places[index - 1]!).toBeGreaterThanOrEqual(40 - 1e-6);
        });
        for (const tick of ticks) expect(tick.toExponential()).toMatch(/^[1235]e/);
      }),
    );
  });

  test('hold the values, kept to the limits', () => {
    const { domain, type } = logRange([0, 0.003, 0.2], [1e-6, 1], 260, 42);
    expect(type).toBe('log');
    expect(domain[0]).toBeLessThan(0.003);
    expect(domain[1]).toBeGreaterThan(0.2);
    expect(logRange([1e-12, 1], [1e-6, 1], 260, 42).domain).toEqual([8e-7, 1]);
  });

  test('are taken for amounts far apart only', () => {
    expect(amountRange([5, 20_000], 260, 40)).toMatchObject({ type: 'log' });
    expect(amountRange([400, 600, 0], 260, 40)).toEqual({ type: 'linear', domain: [0, 630], ticks: null });
    expect(amountRange([], 260, 40).domain[0]).toBe(0);
    const { domain } = amountRange([5, 20_000], 260, 40);
    expect(domain[0]).toBeLessThan(5);
    expect(domain[1]).toBeGreaterThan(20_000);
  });
});

test('labels at the ends of lines keep their distance, their order, and to the panel', () => {
  const places = fc.array(fc.double({ min: 0, max: 110, noNaN: true }), { minLength: 1, maxLength: 8 });
  fc.assert(
    fc.property(places, (unsorted) => {
      const sorted = [...unsorted].sort((a, b) => a - b);
      const moved = spread(sorted, 14, 110);
      moved.forEach((place, index) => {
        expect(place).toBeGreaterThanOrEqual(-1e-9);
        expect(place).toBeLessThanOrEqual(110 + 1e-9);
        if (index > 0) expect(place - moved[index - 1]!).toBeGreaterThanOrEqual(14 - 1e-9);
      });
    }),
  );
  expect(spread([10, 60, 100], 14, 110)).toEqual([10, 60, 100]);
});
