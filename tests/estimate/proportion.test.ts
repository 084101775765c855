import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  clopperPearsonInterval,
  jeffreysInterval,
  wilsonInterval,
  wilsonForShare,
} from '../../lib/estimate/proportion.js';
import { binomialCdf } from '../../lib/numeric/special.js';

const settings = { seed: 20_240_605, numRuns: 300 };
const counts = fc
  .integer({ min: 1, max: 5000 })
  .chain((trials) => fc.tuple(fc.integer({ min: 0, max: trials }), fc.constant(trials)));
const levels = fc.double({ min: 0.5, max: 0.999, noNaN: true });
const methods = { wilsonInterval, clopperPearsonInterval, jeffreysInterval };

test.each(Object.entries(methods))('%s: 0 <= lower <= share <= upper <= 1, never closed', (_, method) => {
  fc.assert(
    fc.property(counts, levels, ([events, trials], level) => {
      const { estimate, lower, upper } = method(events, trials, level);
      expect(lower).toBeGreaterThanOrEqual(0);
      expect(lower).toBeLessThanOrEqual(estimate);
      expect(upper).toBeGreaterThanOrEqual(estimate);
      expect(upper).toBeLessThanOrEqual(1);
      expect(upper).toBeGreaterThan(lower);
    }),
    settings,
  );
});

test.each(Object.entries(methods))('%s: counting the other outcome mirrors the interval', (_, method) => {
  fc.assert(
    fc.property(counts, ([events, trials]) => {
      const straight = method(events, trials);
      const mirrored = method(trials - events, trials);
      expect(mirrored.lower).toBeCloseTo(1 - straight.upper, 12);
      expect(mirrored.upper).toBeCloseTo(1 - straight.lower, 12);
    }),
    settings,
  );
});

test('at the Clopper-Pearson bounds the count seen is exactly on the edge of surprising', () => {
  fc.assert(
    fc.property(counts, levels, ([events, trials], level) => {
      const { lower, upper } = clopperPearsonInterval(events, trials, level);
      const tail = (1 - level) / 2;
      if (events < trials) expect(binomialCdf(events, trials, upper)).toBeCloseTo(tail, 9);
      if (events > 0) expect(1 - binomialCdf(events - 1, trials, lower)).toBeCloseTo(tail, 9);
    }),
    settings,
  );
});

test('Clopper-Pearson holds its level for every chance, by exact summation', () => {
  const trials = 30;
  const intervals = Array.from({ length: trials + 1 }, (_, events) => clopperPearsonInterval(events, trials));
  for (let chance = 0.01; chance < 1; chance += 0.01) {
    let covered = 0;
    intervals.forEach(({ lower, upper }, events) => {
      if (lower <= chance && chance <= upper) {
        covered += binomialCdf(events, trials, chance) - binomialCdf(events - 1, trials, chance);
      }
    });
    expect(covered).toBeGreaterThanOrEqual(0.95 - 1e-12);
  }
});

test('counts that cannot be are refused by name', () => {
  for (const method of Object.values(methods)) {
    expect(() => method(0, 0)).toThrow(/^trials must be a whole number of 1 or more; found 0/);
    expect(() => method(5, 4)).toThrow(/^events must be a whole number from 0 to 4; found 5/);
    expect(() => method(0.5, 4)).toThrow(/^events/);
    expect(() => method(1, 4, 1)).toThrow(/^level/);
  }
});

test('a share in which ties count in parts has Wilson’s interval for whole events, and lies between its neighbours', () => {
  expect(wilsonForShare(15 / 148, 148).upper).toBeCloseTo(wilsonInterval(15, 148).upper, 12);
  expect(wilsonForShare(0, 20)).toEqual(wilsonInterval(0, 20));
  expect(wilsonForShare(1, 20)).toEqual(wilsonInterval(20, 20));
  const { lower, upper } = wilsonForShare(7.5 / 20, 20);
  expect(lower).toBeGreaterThan(wilsonInterval(7, 20).lower);
  expect(upper).toBeLessThan(wilsonInterval(8, 20).upper);
  expect(() => wilsonForShare(1.1, 20)).toThrow(/share/);
});
