import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { KEEP_MOVING_FORCE_N, KEEP_MOVING_FORCE_WOMEN_N, pushersNeeded } from '../../lib/models/hand-push.js';
import { rollingResistanceRatio } from '../../lib/models/slip-work.js';
import { bearablePressurePa, soilResistanceRatio } from '../../lib/models/soft-ground.js';

fc.configureGlobal({ seed: 20_260_224 });

const PSI_PA = 6894.757293168;

describe('what the ground bears', () => {
  // DERIVED from the cover formula with 8.1 (Corps of Engineers, from memory).
  test.each([
    [9, 3.5],
    [25, 9.7],
    [50, 19.4],
  ])('%d psi needs no cover from CBR %d on', (psi, cbr) => {
    expect(Math.abs((psi * PSI_PA) / bearablePressurePa(0.01) - cbr)).toBeLessThanOrEqual(0.05);
  });

  test('no cover is needed exactly there: sqrt(P / (8.1 CBR) - A / pi) = 0', () => {
    const cbr = 7;
    const areaIn2 = 50;
    const loadLbf = (bearablePressurePa(cbr / 100) / PSI_PA) * areaIn2;
    expect(loadLbf / (8.1 * cbr) - areaIn2 / Math.PI).toBeCloseTo(0, 9);
  });
});

describe('resistance of soil (Brixius 1987, from memory; the table is DERIVED from it)', () => {
  const rows = [
    [0.157, 0.439, 0.043, 0.14, [0.357, 0.198, 0.119]],
    [0.254, 0.66, 0.043, 0.23, [0.217, 0.129, 0.084]],
    [0.279, 0.737, 0.09, 0.26, [0.142, 0.091, 0.065]],
  ] as const;

  test.each(rows)('tire %d x %d m', (width, diameter, deflection, height, totals) => {
    [200e3, 400e3, 800e3].forEach((coneIndexPa, column) => {
      const soil = soilResistanceRatio(coneIndexPa, 5338, width, diameter, height, deflection);
      // The tire's own 0.04 is a model of its own here.
      expect(Math.abs(soil + 0.04 - totals[column]!)).toBeLessThanOrEqual(0.0005);
    });
  });

  test('falls with firmer ground and with deflection, grows with load, and is free of units', () => {
    const factor = fc.double({ min: 1.01, max: 10, noNaN: true });
    fc.assert(
      fc.property(factor, (k) => {
        const base = soilResistanceRatio(4e5, 5000, 0.25, 0.66, 0.23, 0.04);
        expect(soilResistanceRatio(k * 4e5, 5000, 0.25, 0.66, 0.23, 0.04)).toBeLessThan(base);
        expect(soilResistanceRatio(4e5, 5000, 0.25, 0.66, 0.23, k * 0.04)).toBeLessThan(base);
        expect(soilResistanceRatio(4e5, k * 5000, 0.25, 0.66, 0.23, 0.04)).toBeGreaterThan(base);
        const scaled = soilResistanceRatio(4e5, k * k * 5000, k * 0.25, k * 0.66, k * 0.23, k * 0.04);
        expect(scaled).toBeCloseTo(base, 12);
      }),
    );
  });
});

describe('pushing by hand', () => {
  test('guideline: about 100 N to keep a load moving, 70 N for women (HSE L23, INDG143)', () => {
    expect([KEEP_MOVING_FORCE_N, KEEP_MOVING_FORCE_WOMEN_N]).toEqual([100, 70]);
  });

  test('example: 2400 lb at 0.04 takes 427 N, so five people (DERIVED)', () => {
    const forceN = 0.04 * 2400 * 4.4482216152605;
    expect(Math.round(forceN)).toBe(427);
    expect(pushersNeeded(forceN)).toBe(5);
    expect(pushersNeeded(forceN, KEEP_MOVING_FORCE_WOMEN_N)).toBe(7);
  });

  test('never less than one, and just enough', () => {
    expect([pushersNeeded(0), pushersNeeded(100), pushersNeeded(100.5)]).toEqual([1, 1, 2]);
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e5, noNaN: true }), (forceN) => {
        const people = pushersNeeded(forceN);
        expect(people * KEEP_MOVING_FORCE_N).toBeGreaterThanOrEqual(forceN);
        expect(people === 1 || (people - 1) * KEEP_MOVING_FORCE_N < forceN).toBe(true);
      }),
    );
  });

  test('on pavement a harder tire always rolls more easily', () => {
    const pressure = fc.double({ min: 15_000, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(pressure, fc.double({ min: 100, max: 1e5, noNaN: true }), (low, more) => {
        expect(rollingResistanceRatio(0.012, 2413, low + more)).toBeLessThan(
          rollingResistanceRatio(0.012, 2413, low),
        );
      }),
    );
  });
});
