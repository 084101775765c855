import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  footprintLengthM,
  footprintWidthM,
  freeSectionHeightM,
  grossFootprintAreaM2,
  loadedRadiusM,
  rollingRadiusM,
  sectionHeightM,
  stiffnessAreaM2,
  verticalLoadN,
  verticalStiffnessN,
} from '../../lib/models/contact.js';

// Golden values of the same formulas are in contact.test.ts. Formulas of NASA TR R-64: FROM MEMORY (high), footprint
// width FROM MEMORY (medium-high).

fc.configureGlobal({ seed: 20_260_210 });

const INCH_M = 0.0254;
const PSI_PA = 6894.757293168;

describe('the footprint', () => {
  const diameterM = 26 * INCH_M;
  const widthM = 10 * INCH_M;

  test('grows in length up to the axle, never shrinks in width, and is nothing without load', () => {
    expect(footprintLengthM(0, diameterM)).toBe(0);
    expect(footprintWidthM(0, widthM)).toBe(0);
    let length = 0;
    let width = 0;
    for (let delta = 0.0005; delta < diameterM / 2; delta += 0.0005) {
      expect(footprintLengthM(delta, diameterM)).toBeGreaterThan(length);
      expect(footprintWidthM(delta, widthM)).toBeGreaterThanOrEqual(width);
      length = footprintLengthM(delta, diameterM);
      width = footprintWidthM(delta, widthM);
    }
  });

  test('stays as wide as the width polynomial ever gets', () => {
    let peak = 0;
    for (let x = 0; x <= 1; x += 1e-4) {
      peak = Math.max(peak, 1.7 * Math.sqrt(Math.max(0, x - 2.5 * x ** 4 + 1.5 * x ** 6)));
    }
    expect(footprintWidthM(0.9 * widthM, widthM) / widthM).toBeCloseTo(peak, 6);
  });

  test('bears, on average, (2.4/2.3)(1 - C w/delta)(p + 0.08 p_r) beyond the branch point (DERIVED)', () => {
    const psi = fc.double({ min: 5, max: 60, noNaN: true });
    fc.assert(
      fc.property(psi, psi, fc.double({ min: 0.11, max: 0.45, noNaN: true }), (inflation, rated, ratio) => {
        const delta = ratio * widthM;
        const stiffness = verticalStiffnessN(
          inflation * PSI_PA,
          rated * PSI_PA,
          stiffnessAreaM2(widthM, diameterM),
        );
        const load = verticalLoadN(delta, stiffness, widthM);
        const bearingPsi = load / grossFootprintAreaM2(delta, Math.sqrt(widthM * diameterM)) / PSI_PA;
        const expected = (2.4 / 2.3) * (1 - 0.03 / ratio) * (inflation + 0.08 * rated);
        expect(bearingPsi / expected).toBeCloseTo(1, 9);
      }),
    );
  });
});

describe('radii and heights', () => {
  test('a rolling tire turns about a radius between the loaded and the free one, a third of the way down', () => {
    const free = rollingRadiusM(0, 0.7);
    expect(free).toBe(0.35);
    expect(loadedRadiusM(0.06, 0.7)).toBeCloseTo(0.29, 12);
    expect(free - rollingRadiusM(0.06, 0.7)).toBeCloseTo(0.02, 12);
  });

  test('section height counts from the bead seat, free height from the top of the flange', () => {
    expect(sectionHeightM(29 * INCH_M, 8 * INCH_M) / INCH_M).toBeCloseTo(10.5, 12);
    expect(freeSectionHeightM(29 * INCH_M, 8 * INCH_M, 0.7 * INCH_M) / INCH_M).toBeCloseTo(9.8, 12);
  });
});
