import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectedShortfall } from '../../lib/estimate/expected-shortfall.js';
import { exp } from '../../lib/numeric/elementary.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';

/** n values at the middle of n equal steps of probability. */
const quantiles = (count: number, quantile: (probability: number) => number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => quantile((i + 0.5) / count));

describe('the definition of Acerbi and Tasche, and of Rockafellar and Uryasev (worked cases recomputed)', () => {
  const losses = Float64Array.from({ length: 10 }, (_, i) => i + 1);

  test('losses 1 to 10, worst 15 %: (0.05 x 9 + 0.1 x 10) / 0.15', () => {
    const found = expectedShortfall(losses, 0.15);
    expect(found.estimate).toBeCloseTo(9.6666667, 7);
    expect(found.threshold).toBe(9);
    // The mean of the losses at or beyond the quantile is 9.5: another figure.
    expect(found.estimate).not.toBeCloseTo(9.5, 3);
  });

  test('losses 1 to 10, worst 20 %: 9.5; worst tenth: the worst; all: the mean', () => {
    expect(expectedShortfall(losses, 0.2).estimate).toBeCloseTo(9.5, 12);
    expect(expectedShortfall(losses).estimate).toBe(10);
    expect(expectedShortfall(losses, 1).estimate).toBeCloseTo(5.5, 12);
  });

  test('by hand: 1, 2, 2, 8, worst half: (8 + 2) / 2, with its error', () => {
    // Threshold 2; excess over it / 0.5: 0, 0, 0, 12; 2 + excess: 2, 2, 2, 14; mean 5; variance 108 / 3 = 36.
    const found = expectedShortfall([1, 2, 2, 8], 0.5);
    expect(found.threshold).toBe(2);
    expect(found.estimate).toBe(5);
    expect(found.standardError).toBe(3);
  });
});

test('distributions with closed forms', () => {
  // phi(1.644854) / 0.05 for the normal, 1 + ln 20 for the exponential; 20 000 points, error of order 1/n in the tail.
  const normal = expectedShortfall(quantiles(20_000, standardNormalQuantile), 0.05);
  expect(normal.estimate).toBeCloseTo(2.06271280751, 3);
  expect(normal.threshold).toBeCloseTo(1.64485362695, 2);
  const exponential = expectedShortfall(
    quantiles(20_000, (p) => -Math.log(1 - p)),
    0.05,
  );
  expect(exponential.estimate).toBeCloseTo(3.99573227355, 2);
  const lognormal = expectedShortfall(
    quantiles(20_000, (p) => exp(0.5 * standardNormalQuantile(p))),
    0.05,
  );
  expect(lognormal.estimate).toBeCloseTo(2.85859129531, 2);
});

test('the error is the asymptotic one', () => {
  // Standard normal, worst 5 %, n = 10 000: 0.0246557294 (recomputed in R). The points leave out the far tail.
  const found = expectedShortfall(quantiles(10_000, standardNormalQuantile), 0.05);
  expect(Math.abs(found.standardError / 0.0246557294 - 1)).toBeLessThan(0.002);
});

test('never below the mean or above the worst; scales with money; never falls as the tail narrows', () => {
  const values = fc.array(fc.double({ min: 0, max: 1e5, noNaN: true }), { minLength: 2, maxLength: 60 });
  const share = fc.double({ min: 0.01, max: 1, noNaN: true });
  fc.assert(
    fc.property(values, share, share, (unsorted, a, b) => {
      const sorted = Float64Array.from(unsorted).sort();
      const [narrow, wide] = a < b ? [a, b] : [b, a];
      const [worst, more] = [expectedShortfall(sorted, narrow), expectedShortfall(sorted, wide)];
      const slack = 1e-9 * (1 + sorted[sorted.length - 1]!);
      expect(worst.estimate).toBeGreaterThanOrEqual(more.estimate - slack);
      expect(worst.estimate).toBeLessThanOrEqual(sorted[sorted.length - 1]! + slack);
      expect(more.estimate).toBeGreaterThanOrEqual(
        sorted.reduce((sum, x) => sum + x, 0) / sorted.length - slack,
      );
      expect(
        expectedShortfall(
          sorted.map((x) => 2 * x),
          narrow,
        ).estimate,
      ).toBe(2 * worst.estimate);
    }),
    { seed: 6, numRuns: 200 },
  );
});

test('bad arguments are refused', () => {
  expect(() => expectedShortfall([1, 2], 0)).toThrow(/tail/);
  expect(() => expectedShortfall([1, 2], 1.1)).toThrow(/tail/);
  expect(() => expectedShortfall([1], 0.5)).toThrow(/at least 2/);
});
