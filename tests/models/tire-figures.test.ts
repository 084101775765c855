import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { lateralStiffnessNpm } from '../../lib/models/lateral.js';
import { loadAtPressureKg } from '../../lib/models/tire-load.js';
import { shavingUnbalanceKgM, TREAD_DENSITY_KG_PER_M3 } from '../../lib/models/unbalance.js';

fc.configureGlobal({ seed: 20_260_225 });

const INCH_M = 0.0254;
const PSI_PA = 6894.757293168;
const LBF_N = 4.4482216152605;

describe('load at a pressure below the rated one', () => {
  test('by hand: half the rated pressure carries half the rated load, more than the rated one no more than it', () => {
    expect(loadAtPressureKg(800, 2e5, 4e5)).toBe(400);
    expect(loadAtPressureKg(800, 5e5, 4e5)).toBe(800);
  });

  test('never falls with pressure', () => {
    const pa = fc.double({ min: 0, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(pa, pa, (low, more) => {
        expect(loadAtPressureKg(800, low + more, 4e5)).toBeGreaterThanOrEqual(
          loadAtPressureKg(800, low, 4e5),
        );
      }),
    );
  });
});

describe('side stiffness (NASA TR R-64, from memory, low confidence)', () => {
  test('by hand: 6.2 in wide, 50 psi at 50 psi rated, 1.147 in deep', () => {
    // 3 x 6.2 x (50 + 0.24 x 50) x (1 - 0.7 x 1.147 / 6.2) = 18.6 x 62 x 0.8705 = 1003.9 lb/in
    const found = lateralStiffnessNpm(50 * PSI_PA, 50 * PSI_PA, 6.2 * INCH_M, 1.147 * INCH_M);
    expect(found / (LBF_N / INCH_M)).toBeCloseTo(1003.9, 0);
  });

  test('grows with pressure, falls with deflection, is never negative', () => {
    const deflection = fc.double({ min: 0, max: 0.5, noNaN: true });
    fc.assert(
      fc.property(deflection, fc.double({ min: 0, max: 1e5, noNaN: true }), (d, more) => {
        const base = lateralStiffnessNpm(1e5, 2e5, 0.25, d);
        expect(base).toBeGreaterThanOrEqual(0);
        expect(lateralStiffnessNpm(1e5 + more, 2e5, 0.25, d)).toBeGreaterThanOrEqual(base);
        expect(lateralStiffnessNpm(1e5, 2e5, 0.25, d + 0.01)).toBeLessThanOrEqual(base);
      }),
    );
  });
});

test('unbalance of a tread cut off centre is the sum of its pieces of rubber', () => {
  const [offCentreM, widthM, land, diameterM] = [0.0004, 0.18, 0.9, 0.7];
  const pieces = 10_000;
  let sum = 0;
  for (let i = 0; i < pieces; i++) {
    const angle = (2 * Math.PI * i) / pieces;
    const areaM2 = widthM * land * (diameterM / 2) * ((2 * Math.PI) / pieces);
    const massKg = TREAD_DENSITY_KG_PER_M3 * areaM2 * offCentreM * Math.cos(angle);
    sum += massKg * (diameterM / 2) * Math.cos(angle);
  }
  expect(shavingUnbalanceKgM(offCentreM, widthM, land, diameterM)).toBeCloseTo(sum, 9);
});
