import fc from 'fast-check';
import * as reference from 'simple-statistics';
import { expect, test } from 'vitest';
import {
  compensatedSum,
  mean,
  quantileSorted,
  sampleCovariance,
  sampleStandardDeviation,
  sampleVariance,
  standardErrorOfMean,
  standardErrorOfPairedDifference,
} from '../../lib/estimate/moments.js';

const settings = { seed: 20_240_601, numRuns: 200 };
const columns = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 2, maxLength: 60 });

/** Mixed absolute and relative agreement of two numbers. */
function expectClose(found: number, expected: number, scale = 1): void {
  expect(Math.abs(found - expected)).toBeLessThanOrEqual(1e-9 * Math.max(scale, Math.abs(expected)));
}

test('mean, variance and quantiles agree with simple-statistics', () => {
  fc.assert(
    fc.property(columns, fc.double({ min: 0, max: 1, noNaN: true }), (values, p) => {
      const scale = Math.max(...values.map(Math.abs));
      expectClose(mean(values), reference.mean(values), scale);
      expectClose(sampleVariance(values), reference.sampleVariance(values), scale * scale);
      const sorted = Float64Array.from(values).sort();
      expectClose(quantileSorted(sorted, p), reference.quantileSorted(Array.from(sorted), p), scale);
    }),
    settings,
  );
});

test('covariance agrees with simple-statistics, and with itself in either order', () => {
  fc.assert(
    fc.property(columns, (values) => {
      const other = values.map((value, i) => Math.sin(i) * 100 + value / 3);
      const scale = Math.max(...values.map(Math.abs)) ** 2 + 100;
      expectClose(sampleCovariance(values, other), reference.sampleCovariance(values, other), scale);
      expect(sampleCovariance(other, values)).toBe(sampleCovariance(values, other));
    }),
    settings,
  );
});

test('a compensated sum keeps what plain addition loses', () => {
  const terms = [1, 1e100, 1, -1e100];
  expect(terms.reduce((sum, term) => sum + term, 0)).toBe(0);
  expect(compensatedSum(4, (i) => terms[i]!)).toBe(2);
});

test('the variance of a constant column is exactly 0, whatever the constant and its rounding', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1e9, max: 1e9, noNaN: true }),
      fc.integer({ min: 2, max: 80 }),
      (constant, count) => {
        expect(sampleVariance(new Float64Array(count).fill(constant))).toBe(0);
      },
    ),
    settings,
  );
});

test('a column of five million values needs no spread on the stack', () => {
  const values = new Float64Array(5_000_000);
  for (let i = 0; i < values.length; i += 1) values[i] = i % 3;
  // 1 666 667 zeros, 1 666 667 ones, 1 666 666 twos.
  expect(mean(values)).toBeCloseTo(4_999_999 / 5_000_000, 12);
});

test('the standard error of a mean is the standard deviation over root n', () => {
  const values = Float64Array.of(2, 4, 4, 4, 5, 5, 7, 9);
  expect(sampleStandardDeviation(values)).toBeCloseTo(Math.sqrt(32 / 7), 14);
  expect(standardErrorOfMean(values)).toBeCloseTo(Math.sqrt(32 / 7 / 8), 14);
});

test('a paired difference has the error of the differences, not of the two columns', () => {
  const first = Float64Array.of(10, 200, 3000);
  const second = Float64Array.of(11, 203, 3002);
  expect(standardErrorOfPairedDifference(first, second)).toBeCloseTo(1 / Math.sqrt(3), 12);
});

test('the ends of a quantile are the smallest and the largest value', () => {
  expect(quantileSorted([3, 5, 8], 0)).toBe(3);
  expect(quantileSorted([3, 5, 8], 1)).toBe(8);
  expect(quantileSorted([7], 0.3)).toBe(7);
});

test('a bad column or probability is refused by name', () => {
  expect(() => mean([])).toThrow(/at least 1 numbers; found 0/);
  expect(() => mean([1, NaN])).toThrow(/finite/);
  expect(() => mean([1, Infinity, -Infinity])).toThrow(/finite/);
  expect(() => sampleVariance([1])).toThrow(/at least 2/);
  expect(() => sampleCovariance([1, 2], [1, 2, 3])).toThrow(/equally long; found 2 and 3/);
  expect(() => standardErrorOfPairedDifference([1, 2], [1])).toThrow(/equally long/);
  expect(() => quantileSorted([1, 2], 1.2)).toThrow(/^probability/);
  expect(() => quantileSorted([], 0.5)).toThrow(RangeError);
});
