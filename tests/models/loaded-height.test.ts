import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { freeSectionHeightM, stiffnessAreaM2 } from '../../lib/models/contact.js';
import {
  flatHeightM,
  loadedHeightM,
  tireDeflectionM,
  type TireShape,
} from '../../lib/models/loaded-height.js';
import { mainWheelMassKg, thirdWheelMassKg } from '../../lib/models/wheel-loads.js';

fc.configureGlobal({ seed: 20_260_221 });

const INCH_M = 0.0254;
const PSI_PA = 6894.757293168;
const LBF_N = 4.4482216152605;

function tire(widthIn: number, diameterIn: number, ratedPsi: number, rimIn = 6, flangeIn = 0.7): TireShape {
  const [sectionWidthM, outsideDiameterM] = [widthIn * INCH_M, diameterIn * INCH_M];
  return {
    sectionWidthM,
    outsideDiameterM,
    stiffnessAreaM2: stiffnessAreaM2(sectionWidthM, outsideDiameterM),
    ratedPa: ratedPsi * PSI_PA,
    freeSectionHeightM: freeSectionHeightM(outsideDiameterM, rimIn * INCH_M, flangeIn * INCH_M),
  };
}

describe('loaded radius (DERIVED from the formulas of NASA TR R-64, which are from memory)', () => {
  test.each([
    ['6.00-6 class', 6.2, 17.3, 29, 29, 1150, 6.987],
    ['the same, higher ply', 6.2, 17.3, 42, 42, 1750, 6.912],
    ['8.50-6 class', 8.7, 21.9, 25, 30, 1200, 9.367],
    ['26 in, rigid sidewall', 10, 26, 25, 25, 1200, 11.552],
    ['29 in, soft', 11, 29, 9, 9, 1200, 11.29],
    ['29 in, soft, higher rating', 11, 29, 9, 25, 1200, 11.625],
  ])('%s', (_name, width, diameter, psi, ratedPsi, loadLbf, radiusIn) => {
    const heightM = loadedHeightM(loadLbf * LBF_N, psi * PSI_PA, tire(width, diameter, ratedPsi));
    expect(Math.abs(heightM / INCH_M - radiusIn)).toBeLessThanOrEqual(0.0005);
  });
});

test('a tire never sinks below its rim flange, and without air it stands there', () => {
  const soft = tire(8.7, 21.9, 30);
  // 6 in rim and 0.7 in flange: 3.7 in from the axle.
  expect(flatHeightM(soft) / INCH_M).toBeCloseTo(3.7, 12);
  expect(loadedHeightM(50_000, 0, soft)).toBe(flatHeightM(soft));
});

test('more pressure never means more deflection, more load never less', () => {
  const loadN = fc.double({ min: 100, max: 30_000, noNaN: true });
  const pressurePa = fc.double({ min: 0, max: 1e6, noNaN: true });
  const widthIn = fc.double({ min: 3, max: 12, noNaN: true });
  fc.assert(
    fc.property(
      loadN,
      pressurePa,
      fc.double({ min: 0, max: 1e5, noNaN: true }),
      widthIn,
      (load, low, more, width) => {
        const shape = tire(width, 26, 30);
        const base = tireDeflectionM(load, low, shape);
        expect(tireDeflectionM(load, low + more, shape)).toBeLessThanOrEqual(base);
        expect(tireDeflectionM(load + 100, low, shape)).toBeGreaterThanOrEqual(base);
        expect(base).toBeLessThanOrEqual(shape.freeSectionHeightM);
      },
    ),
  );
});

test('a tire twice as large under four times the load sinks twice as deep at the same pressure', () => {
  const loadN = fc.double({ min: 100, max: 20_000, noNaN: true });
  const pressurePa = fc.double({ min: 1e4, max: 5e5, noNaN: true });
  fc.assert(
    fc.property(loadN, pressurePa, (load, pressure) => {
      const small = tireDeflectionM(load, pressure, tire(5, 13, 30, 4, 0.5));
      const large = tireDeflectionM(4 * load, pressure, tire(10, 26, 30, 8, 1));
      expect(large / small).toBeCloseTo(2, 9);
    }),
  );
});

test('the three wheels carry the airplane between them', () => {
  const massKg = fc.double({ min: 100, max: 6000, noNaN: true });
  const share = fc.double({ min: 0.01, max: 0.5, noNaN: true });
  fc.assert(
    fc.property(massKg, share, (mass, third) => {
      const carried = 2 * mainWheelMassKg(mass, third) + thirdWheelMassKg(mass, third);
      expect(carried / mass).toBeCloseTo(1, 12);
      expect(thirdWheelMassKg(mass, third) / mass).toBeCloseTo(third, 12);
    }),
  );
});
