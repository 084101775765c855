import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  BITE_REFERENCE_PRESSURE_PA,
  SCALE_OVER_MEDIAN,
  biteScaleM,
  chanceLarger,
  chanceLargerOnBands,
  stonesMet,
} from '../../lib/models/stones.js';
import { oneMinusExp } from '../../lib/numeric/elementary.js';

// No published rate of cuts or punctures per landing was found, so only the arithmetic of the law is checked here.

fc.configureGlobal({ seed: 20_260_208 });

const scaleM = fc.double({ min: 1e-4, max: 0.05, noNaN: true });
const sizeM = fc.double({ min: 0, max: 0.05, noNaN: true });

describe('stones met', () => {
  test('worked example: 5 /m2, 0.14 m wide, 400 m, chance 1e-6 each: mean 2.8e-4, puncture 2.80e-4 (DERIVED)', () => {
    const mean = stonesMet(5, 0.14, 400) * 1e-6;
    expect(mean).toBeCloseTo(2.8e-4, 15);
    expect(oneMinusExp(mean)).toBeCloseTo(1 - Math.exp(-2.8e-4), 15);
    expect(oneMinusExp(mean).toExponential(2)).toBe('2.80e-4');
  });

  test('a Poisson number of stones, each with its chance, leaves exp(-mean x chance) of no bite through', () => {
    // Summed over the number of stones: sum of m^k e^-m / k! (1 - q)^k.
    const met = stonesMet(0.3, 0.2, 150);
    const chance = chanceLarger(0.004, 0.006);
    let weight = Math.exp(-met);
    let none = 0;
    for (let k = 0; k < 100; k++) {
      none += weight * Math.pow(1 - chance, k);
      weight *= met / (k + 1);
    }
    expect(oneMinusExp(met * chance)).toBeCloseTo(1 - none, 12);
  });

  test('are proportional to density, width and distance', () => {
    expect(stonesMet(2, 0.25, 300)).toBe(150);
    expect(stonesMet(4, 0.25, 300)).toBe(300);
    expect(stonesMet(2, 0.5, 300)).toBe(300);
    expect(stonesMet(2, 0.25, 600)).toBe(300);
  });
});

describe('power law of bite depths and edge heights (exponent 3: ASSUMPTION)', () => {
  test('every bite is larger than nothing, half are larger than the median', () => {
    expect(SCALE_OVER_MEDIAN).toBeCloseTo(1 / (Math.cbrt(2) - 1), 14);
    fc.assert(
      fc.property(scaleM, (scale) => {
        expect(chanceLarger(0, scale)).toBe(1);
        expect(chanceLarger(scale / SCALE_OVER_MEDIAN, scale)).toBeCloseTo(0.5, 12);
      }),
    );
  });

  test('the mean is half the scale, by integration of the tail over all sizes', () => {
    // x = s u / (1 - u) maps 0..1 to all sizes; midpoint rule.
    const scale = 0.0042;
    const cells = 20_000;
    let mean = 0;
    for (let i = 0; i < cells; i++) {
      const u = (i + 0.5) / cells;
      mean += (chanceLarger((scale * u) / (1 - u), scale) * scale) / ((1 - u) * (1 - u)) / cells;
    }
    expect(mean / (scale / 2)).toBeCloseTo(1, 6);
  });

  test('the tail falls as the cube of size: twice as large is eight times as rare, far out', () => {
    expect(chanceLarger(2000, 0.01) / chanceLarger(1000, 0.01)).toBeCloseTo(1 / 8, 4);
  });

  test('thicker rubber never raises the chance, nor does a smaller scale', () => {
    fc.assert(
      fc.property(sizeM, scaleM, fc.double({ min: 1e-5, max: 0.01, noNaN: true }), (size, scale, more) => {
        const chance = chanceLarger(size, scale);
        expect(chance).toBeGreaterThan(0);
        expect(chance).toBeLessThanOrEqual(1);
        expect(chanceLarger(size + more, scale)).toBeLessThan(chance);
        expect(chanceLarger(size, scale + more)).toBeGreaterThanOrEqual(chance);
      }),
    );
  });

  test('a bite through rubber and cord is rarer than one that reaches the cord', () => {
    expect(chanceLarger(0.012 + 0.006, 0.005)).toBeLessThan(chanceLarger(0.012, 0.005));
  });
});

describe('bite scale against contact pressure (square root: ASSUMPTION)', () => {
  test('is as stated at 50 psi, doubles at four times the pressure, and never falls as pressure rises', () => {
    expect(BITE_REFERENCE_PRESSURE_PA).toBeCloseTo(50 * 6894.757293168, 6);
    expect(biteScaleM(0.003, BITE_REFERENCE_PRESSURE_PA)).toBe(0.003);
    expect(biteScaleM(0.003, 4 * BITE_REFERENCE_PRESSURE_PA)).toBeCloseTo(0.006, 15);
    const contactPa = fc.double({ min: 1e4, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(contactPa, scaleM, (contact, scale) => {
        expect(biteScaleM(scale, 1.01 * contact)).toBeGreaterThan(biteScaleM(scale, contact));
      }),
    );
  });
});

describe('chance on three bands', () => {
  test('is the weighted mean of the chances on each band', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.array(fc.double({ min: 0, max: 0.05, noNaN: true }), { minLength: 3, maxLength: 3 }),
        fc.double({ min: 1e-5, max: 0.01, noNaN: true }),
        (centreShare, depths, scaleM) => {
          const [centre, inner, outer] = depths as [number, number, number];
          const separate =
            centreShare * chanceLarger(centre, scaleM) +
            0.5 * (1 - centreShare) * (chanceLarger(inner, scaleM) + chanceLarger(outer, scaleM));
          const together = chanceLargerOnBands(centreShare, centre, inner, outer, scaleM);
          expect(Math.abs(together - separate)).toBeLessThanOrEqual(1e-13 * separate);
        },
      ),
      { seed: 3 },
    );
  });
});
