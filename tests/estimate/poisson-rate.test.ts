import fc from 'fast-check';
import { expect, test } from 'vitest';
import { garwoodInterval } from '../../lib/estimate/poisson-rate.js';
import { poissonCdf } from '../../lib/numeric/special.js';

const settings = { seed: 20_240_606, numRuns: 300 };
const events = fc.integer({ min: 0, max: 100_000 });
const levels = fc.double({ min: 0.5, max: 0.999, noNaN: true });

test('at the bounds the count seen is exactly on the edge of surprising', () => {
  fc.assert(
    fc.property(events, levels, (count, level) => {
      const { lower, upper } = garwoodInterval(count, 1, level);
      const tail = (1 - level) / 2;
      expect(poissonCdf(count, upper)).toBeCloseTo(tail, 9);
      if (count > 0) expect(1 - poissonCdf(count - 1, lower)).toBeCloseTo(tail, 9);
      else expect(lower).toBe(0);
    }),
    settings,
  );
});

test('lower <= rate < upper, and a change of the exposure unit only rescales', () => {
  fc.assert(
    fc.property(events, fc.double({ min: 1e-3, max: 1e6, noNaN: true }), (count, exposure) => {
      const { estimate, lower, upper } = garwoodInterval(count, exposure);
      expect(lower).toBeLessThanOrEqual(estimate);
      expect(upper).toBeGreaterThan(estimate);
      const inHundreds = garwoodInterval(count, exposure / 100);
      expect(inHundreds.upper / 100 / upper).toBeCloseTo(1, 12);
    }),
    settings,
  );
});

test('arguments that cannot be are refused by name', () => {
  expect(() => garwoodInterval(-1, 1)).toThrow(/^events/);
  expect(() => garwoodInterval(1.5, 1)).toThrow(/^events/);
  expect(() => garwoodInterval(1, 0)).toThrow(/^exposure must be a finite number above 0; found 0/);
  expect(() => garwoodInterval(1, 1, 0)).toThrow(/^level/);
});
