import fc from 'fast-check';
import seedrandom from 'seedrandom';
import { expect, test } from 'vitest';
import { standardErrorOfPairedDifference } from '../../lib/estimate/moments.js';
import { meanWithInterval, pairedDifference, studentMultiplier } from '../../lib/estimate/paired.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';

test('the multiplier is the quantile of Student’s t distribution', () => {
  // Recomputed with R 4.2.2: qt(0.975, 7), 16 digits.
  expect(studentMultiplier(0.95, 7)).toBeCloseTo(2.364624251592785, 13);
  // One and two degrees of freedom have closed forms: tan(pi (p - 1/2)) and (2p - 1) sqrt(2 / (4 p (1 - p))).
  expect(studentMultiplier(0.95, 1)).toBeCloseTo(Math.tan(Math.PI * 0.475), 10);
  expect(studentMultiplier(0.95, 2)).toBeCloseTo(0.95 * Math.sqrt(2 / (4 * 0.975 * 0.025)), 12);
  // With many trials it is that of the normal distribution.
  expect(studentMultiplier(0.95, 1e7)).toBeCloseTo(-standardNormalQuantile(0.025), 5);
});

test('a paired difference worked by hand', () => {
  // Differences 50, -25, 50, 0: mean 75 / 4 = 18.75; deviations 31.25, -43.75, 31.25, -18.75, squares
  // 976.5625, 1914.0625, 976.5625, 351.5625, sum 4218.75; variance 4218.75 / 3 = 1406.25; error sqrt(1406.25 / 4).
  const found = pairedDifference([200, 300, 250, 450], [150, 325, 200, 450]);
  expect(found.estimate).toBe(18.75);
  expect(found.standardError).toBe(18.75);
  // t(0.975, 3) = 3.182 in any printed table of t.
  expect(found.upper - found.estimate).toBeCloseTo(3.182446 * 18.75, 4);
  expect(found.estimate - found.lower).toBeCloseTo(found.upper - found.estimate, 12);
  // Variances by themselves: 35 000 / 3 and 54 218.75 / 3.
  expect(found.varianceRatio).toBeCloseTo(1406.25 / (35_000 / 3 + 54_218.75 / 3), 14);
});

test('the 95 % interval of a mean of four normal values holds it 95 times in a hundred', () => {
  const random = seedrandom.alea('t interval');
  const repeats = 4000;
  let held = 0;
  for (let repeat = 0; repeat < repeats; repeat++) {
    const values = Array.from({ length: 4 }, () => standardNormalQuantile(random.double()));
    const { lower, upper } = meanWithInterval(values);
    if (lower <= 0 && 0 <= upper) held++;
  }
  // Four binomial standard errors: false alarm rate 6e-5. A normal interval would hold it 85 times.
  expect(Math.abs(held / repeats - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / repeats));
});

const figure = fc.double({ min: -1e6, max: 1e6, noNaN: true });
const pairs = fc.array(fc.tuple(figure, figure), { minLength: 2, maxLength: 40 });

test('turning a pair round turns the difference, and nothing else', () => {
  fc.assert(
    fc.property(pairs, (rows) => {
      const first = rows.map(([value]) => value);
      const second = rows.map(([, value]) => value);
      const there = pairedDifference(first, second);
      const back = pairedDifference(second, first);
      expect(back.estimate).toBe(-there.estimate);
      expect(back.standardError).toBe(there.standardError);
      expect(back.varianceRatio).toBe(there.varianceRatio);
      expect(there.standardError).toBeCloseTo(standardErrorOfPairedDifference(first, second), 6);
      expect(there.lower).toBeLessThanOrEqual(there.estimate);
      expect(there.upper).toBeGreaterThanOrEqual(there.estimate);
    }),
    { seed: 4, numRuns: 200 },
  );
});

test('a copy differs by exactly nothing', () => {
  fc.assert(
    fc.property(pairs, (rows) => {
      const column = rows.map(([value]) => value);
      const { estimate, standardError, lower, upper } = pairedDifference(column, column);
      expect([estimate, standardError, lower, upper]).toEqual([0, 0, 0, 0]);
    }),
    { seed: 5, numRuns: 100 },
  );
  expect(pairedDifference([3, 3], [1, 1]).varianceRatio).toBeNull();
});

test('too few or unequal columns are refused', () => {
  expect(() => pairedDifference([1], [2])).toThrow(/at least 2/);
  expect(() => pairedDifference([1, 2], [2])).toThrow(/equally long/);
  expect(() => pairedDifference([1, NaN], [2, 3])).toThrow(/finite/);
  expect(() => pairedDifference([1, 2], [2, 3], 1)).toThrow(/level/);
});
