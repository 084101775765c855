import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { poissonSpares, poissonStock } from '../../lib/estimate/poisson-spares.js';

describe('Poisson spares, values recomputed with R 4.2.2', () => {
  test.each([
    [0.5, [1, 1, 2, 3], 0.985612],
    [1, [2, 2, 3, 4], 0.981012],
    [2, [3, 4, 5, 6], 0.983436],
    [3, [4, 5, 6, 8], 0.966491],
    [4, [6, 7, 8, 9], 0.978637],
    [5, [7, 8, 9, 11], 0.968172],
    [10, [13, 14, 15, 18], 0.95126],
  ])('mean demand %d: stock for service 80, 90, 95 and 99 %%', (mean, stocks, at95) => {
    expect([0.8, 0.9, 0.95, 0.99].map((level) => poissonSpares(mean, level).stock)).toEqual(stocks);
    expect(poissonSpares(mean, 0.95).readyRate).toBeCloseTo(at95, 6);
  });

  // Ready rate, fill rate and expected backorders as in Sherbrooke's book (attribution from memory).
  test.each([
    [1, 1, 0.735759, 0.367879, 0.367879],
    [1, 2, 0.919699, 0.735759, 0.103638],
    [1, 3, 0.981012, 0.919699, 0.023337],
    [4, 6, 0.889326, 0.78513, 0.195435],
    [4, 8, 0.978637, 0.948866, 0.033627],
  ])('mean demand %d, stock %d: three measures', (mean, stock, ready, fill, backorders) => {
    const found = poissonStock(mean, stock);
    expect(found.readyRate).toBeCloseTo(ready, 6);
    expect(found.fillRate).toBeCloseTo(fill, 6);
    expect(found.expectedBackorders).toBeCloseTo(backorders, 6);
  });

  test('a public worked case: 26 280 h at one in 8760 h with 3 spares, 42 % by the strict rule', () => {
    // Read in a public note (rmqsi.org): it quotes P(D <= 2); that nobody waits has P(D <= 3).
    const found = poissonStock(26_280 / 8760, 3);
    expect(found.fillRate).toBeCloseTo(0.42, 2);
    expect(found.readyRate).toBeCloseTo(0.6472, 4);
  });
});

test('the stock is the smallest that will do, and grows with demand and level', () => {
  const level = fc.double({ min: 0.01, max: 0.999, noNaN: true });
  const demand = fc.double({ min: 0, max: 40, noNaN: true });
  fc.assert(
    fc.property(demand, demand, level, level, (a, b, c, d) => {
      const [less, more] = a < b ? [a, b] : [b, a];
      const [low, high] = c < d ? [c, d] : [d, c];
      const found = poissonSpares(less, low);
      expect(found.readyRate).toBeGreaterThanOrEqual(low);
      if (found.stock > 0) expect(poissonStock(less, found.stock - 1).readyRate).toBeLessThan(low);
      expect(poissonSpares(more, low).stock).toBeGreaterThanOrEqual(found.stock);
      expect(poissonSpares(less, high).stock).toBeGreaterThanOrEqual(found.stock);
    }),
    { seed: 7, numRuns: 200 },
  );
});

test('bad arguments are refused', () => {
  expect(() => poissonSpares(-1, 0.9)).toThrow(/mean/);
  expect(() => poissonSpares(1, 1)).toThrow(/serviceLevel/);
  expect(() => poissonStock(1, 1.5)).toThrow(/stock/);
});
