import fc from 'fast-check';
import { expect, test } from 'vitest';
import { kaplanMeier } from '../../lib/estimate/kaplan-meier.js';
import { restrictedMean } from '../../lib/estimate/restricted-mean.js';

const settings = { seed: 20_240_603, numRuns: 200 };

test('without censoring it is the plain mean of the lives cut at the horizon', () => {
  const lives = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 60 });
  fc.assert(
    fc.property(lives, fc.integer({ min: 1, max: 40 }), (data, horizon) => {
      const curve = kaplanMeier(Int32Array.from(data), new Uint8Array(data.length).fill(1));
      const cut = data.map((life) => Math.min(life, horizon));
      const plain = cut.reduce((sum, life) => sum + life, 0) / cut.length;
      const spread = cut.reduce((sum, life) => sum + (life - plain) ** 2, 0) / cut.length;
      const found = restrictedMean(curve, horizon);
      expect(found.estimate).toBeCloseTo(plain, 10);
      // Greenwood's error of a complete sample has divisor n.
      expect(found.standardError).toBeCloseTo(Math.sqrt(spread / cut.length), 7);
    }),
    settings,
  );
});

test('0 <= lower <= estimate <= upper <= horizon, and the interval never closes', () => {
  const data = fc.array(fc.tuple(fc.integer({ min: 1, max: 30 }), fc.boolean()), {
    minLength: 1,
    maxLength: 50,
  });
  fc.assert(
    fc.property(data, fc.double({ min: 0.05, max: 1, noNaN: true }), (rows, share) => {
      const curve = kaplanMeier(
        Int32Array.from(rows, ([life]) => life),
        Uint8Array.from(rows, ([, ended]) => (ended ? 1 : 0)),
      );
      const horizon = share * curve.lastTime;
      const found = restrictedMean(curve, horizon);
      expect(found.lower).toBeGreaterThanOrEqual(0);
      expect(found.lower).toBeLessThanOrEqual(found.estimate + 1e-9);
      expect(found.upper).toBeGreaterThanOrEqual(found.estimate - 1e-9);
      expect(found.upper).toBeLessThanOrEqual(horizon + 1e-9);
      expect(found.upper).toBeGreaterThan(found.lower);
    }),
    settings,
  );
});

test('nothing ended before the horizon: the mean is the horizon and its lower bound is below it', () => {
  const curve = kaplanMeier(new Int32Array(100).fill(50), new Uint8Array(100));
  const found = restrictedMean(curve, 50);
  expect([found.estimate, found.standardError, found.upper]).toEqual([50, 0, 50]);
  // None of 100 ended: at least 0.025^(1/100) of the area is certain at this level.
  expect(found.lower).toBeCloseTo(50 * 0.025 ** (1 / 100), 10);
});

test('a horizon past the longest life is refused unless every trial has ended', () => {
  const open = kaplanMeier(Int32Array.of(3, 9), Uint8Array.of(1, 0));
  expect(() => restrictedMean(open, 9.5)).toThrow(/^horizon must be at most 9/);
  const closed = kaplanMeier(Int32Array.of(3, 9), Uint8Array.of(1, 1));
  expect(restrictedMean(closed, 100).estimate).toBe(6);
  expect(() => restrictedMean(closed, 0)).toThrow(/^horizon must be a finite number above 0/);
});
