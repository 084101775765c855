import seedrandom from 'seedrandom';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { quantileInterval } from '../../lib/estimate/quantile-interval.js';
import { binomialCdf } from '../../lib/numeric/special.js';

const settings = { seed: 20_240_607, numRuns: 300 };

test('the interval holds its level and its estimate, and leaves out at most half the rest on either side', () => {
  const ranks = (count: number): Float64Array => Float64Array.from({ length: count }, (_, i) => i + 1);
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 3000 }),
      fc.double({ min: 0.001, max: 0.999, noNaN: true }),
      fc.double({ min: 0.5, max: 0.995, noNaN: true }),
      (count, probability, level) => {
        const found = quantileInterval(ranks(count), probability, level);
        expect(found.coverage).toBeGreaterThanOrEqual(level - 1e-12);
        expect(found.coverage).toBeLessThanOrEqual(1);
        expect(found.lower ?? -Infinity).toBeLessThanOrEqual(found.estimate);
        expect(found.upper ?? Infinity).toBeGreaterThanOrEqual(found.estimate);
        const tail = (1 - level) / 2 + 1e-12;
        expect(binomialCdf((found.lowerRank ?? 0) - 1, count, probability)).toBeLessThanOrEqual(tail);
        const below = binomialCdf((found.upperRank ?? count + 1) - 1, count, probability);
        expect(1 - below).toBeLessThanOrEqual(tail);
        expect(found.lower).toBe(found.lowerRank);
        expect(found.upper).toBe(found.upperRank);
      },
    ),
    settings,
  );
});

test('too few values leave a bound open: five values say nothing above about a 95th percentile', () => {
  const found = quantileInterval([1, 2, 3, 4, 5], 0.95);
  expect(found.upper).toBe(null);
  // P(at most 3 of 5 lie below it) = 1 - 0.95^5 - 5 x 0.05 x 0.95^4 = 0.0226, inside 2.5 %; at most 4, 0.23.
  expect(found.lower).toBe(4);
});

test('coverage by simulation agrees with the binomial sum', () => {
  // Exponential values, true 90th percentile ln 10; 2000 samples of 80.
  const random = seedrandom.alea('order statistics');
  const repeats = 2000;
  let covered = 0;
  let claimed = 0;
  for (let repeat = 0; repeat < repeats; repeat += 1) {
    const values = new Float64Array(80);
    for (let i = 0; i < values.length; i += 1) values[i] = -Math.log(1 - random.double());
    const found = quantileInterval(values.sort(), 0.9);
    claimed = found.coverage;
    if (found.lower! <= Math.LN10 && Math.LN10 <= (found.upper ?? Infinity)) covered += 1;
  }
  // 4 binomial standard errors: false alarm rate 6e-5.
  const slack = 4 * Math.sqrt((claimed * (1 - claimed)) / repeats);
  expect(Math.abs(covered / repeats - claimed)).toBeLessThan(slack);
});

test('ranks for a million values are found quickly and lie about 1.96 standard deviations from the middle', () => {
  const found = quantileInterval(new Float64Array(1_000_000), 0.5);
  expect(found.lowerRank).toBeGreaterThan(500_000 - 982);
  expect(found.lowerRank).toBeLessThan(500_000 - 978);
});

test('arguments that cannot be are refused by name', () => {
  expect(() => quantileInterval([1], 0)).toThrow(/^probability/);
  expect(() => quantileInterval([1], 0.5, 1)).toThrow(/^level/);
  expect(() => quantileInterval([], 0.5)).toThrow(RangeError);
});
