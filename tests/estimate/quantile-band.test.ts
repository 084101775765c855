import fc from 'fast-check';
import { expect, test } from 'vitest';
import { quantileBand } from '../../lib/estimate/quantile-band.js';

// R documentation, stats::quantile, default type 7: quantile(1:10, c(0.1, 0.5, 0.9)) is 1.9, 5.5, 9.1 (from memory).
test('the band of 1 to 10 is that of R', () => {
  const { p10, p50, p90 } = quantileBand(Float64Array.of(3, 1, 2, 10, 9, 8, 7, 6, 5, 4));
  expect(p10).toBeCloseTo(1.9, 12);
  expect(p50).toBeCloseTo(5.5, 12);
  expect(p90).toBeCloseTo(9.1, 12);
});

test('the band is in order, within the values, and the values stay as they are', () => {
  const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 30 });
  fc.assert(
    fc.property(values, (list) => {
      const column = Float64Array.from(list);
      const { p10, p50, p90 } = quantileBand(column);
      expect(Array.from(column)).toEqual(list.map((value) => value));
      expect(p10).toBeLessThanOrEqual(p50);
      expect(p50).toBeLessThanOrEqual(p90);
      expect(p10).toBeGreaterThanOrEqual(Math.min(...list));
      expect(p90).toBeLessThanOrEqual(Math.max(...list));
    }),
  );
});

test('no value, no band', () => {
  expect(() => quantileBand(new Float64Array(0))).toThrow(RangeError);
});
