import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { centreWorkShare, shoulderWeight, treadRubberAreaM2, wornDepthM } from '../../lib/models/bands.js';

// That over-inflation wears the centre and under-inflation the shoulders is checked, with its source, in
// tests/published/physics.test.ts. The straight line and its gain are ASSUMPTIONS.

fc.configureGlobal({ seed: 20_260_207 });

const areaShare = fc.double({ min: 0.05, max: 0.95, noNaN: true });
const deflectionShare = fc.double({ min: 0, max: 0.6, noNaN: true });
const evenShare = fc.double({ min: 0.08, max: 0.35, noNaN: true });
const gain = fc.double({ min: 0, max: 6, noNaN: true });

describe('sharing of wear between centre and shoulders', () => {
  test('is by area, so that depth is even, at the even-wear deflection, whatever the gain', () => {
    fc.assert(
      fc.property(areaShare, evenShare, gain, (area, even, rate) => {
        expect(shoulderWeight(even, even, rate)).toBe(1);
        const centre = centreWorkShare(area, 1);
        expect(centre).toBeCloseTo(area, 12);
        expect(wornDepthM(centre, area)).toBeCloseTo(wornDepthM(1 - centre, 1 - area), 12);
      }),
    );
  });

  test('gives the shoulders 1 + gain times the wear per area at twice the even deflection', () => {
    fc.assert(
      fc.property(areaShare, evenShare, gain, (area, even, rate) => {
        const weight = shoulderWeight(2 * even, even, rate);
        expect(weight).toBeCloseTo(1 + rate, 9);
        const centre = centreWorkShare(area, weight);
        expect((1 - centre) / (1 - area) / (centre / area)).toBeCloseTo(1 + rate, 9);
      }),
    );
  });

  test('leaves the crown alone to touch at small deflection when the gain is large', () => {
    // Weight 0 once the deflection is below even x (1 - 1/gain): with gain 2, below half of it.
    expect(shoulderWeight(0.05, 0.2, 2)).toBe(0);
    expect(shoulderWeight(0.099, 0.2, 2)).toBe(0);
    expect(shoulderWeight(0.101, 0.2, 2)).toBeGreaterThan(0);
    expect(centreWorkShare(0.4, 0)).toBe(1);
  });

  test('worked by hand: deflection a quarter above even, gain 2, centre 40 % of the area', () => {
    // Weight 1 + 2 x 0.25 = 1.5; centre 0.4 / (0.4 + 0.6 x 1.5) = 4/13.
    expect(shoulderWeight(0.25, 0.2, 2)).toBeCloseTo(1.5, 12);
    expect(centreWorkShare(0.4, 1.5)).toBeCloseTo(4 / 13, 12);
  });

  test('never loses work: the centre takes from 0 to 1 and a positive area a positive share', () => {
    fc.assert(
      fc.property(areaShare, deflectionShare, evenShare, gain, (area, deflection, even, rate) => {
        const weight = shoulderWeight(deflection, even, rate);
        expect(weight).toBeGreaterThanOrEqual(0);
        const centre = centreWorkShare(area, weight);
        // The shoulders as the centre of a tread turned inside out, weight 1/w.
        const shoulders = weight > 0 ? centreWorkShare(1 - area, 1 / weight) : 0;
        expect(centre + shoulders).toBeCloseTo(1, 12);
        expect(centre).toBeGreaterThan(0);
        expect(centre).toBeLessThanOrEqual(1);
      }),
    );
  });

  test('moves steadily from centre to shoulders as the tire sinks', () => {
    fc.assert(
      fc.property(areaShare, deflectionShare, evenShare, gain, (area, deflection, even, rate) => {
        const before = shoulderWeight(deflection, even, rate);
        const after = shoulderWeight(deflection + 0.01, even, rate);
        expect(after).toBeGreaterThanOrEqual(before);
        expect(centreWorkShare(area, after)).toBeLessThanOrEqual(centreWorkShare(area, before));
      }),
    );
  });
});

describe("Archard's law in the energy form: depth = worn volume / rubber area", () => {
  test('the tread of a light trainer, 0.44 m x 100 mm x 6 mm x 0.8, holds 6.6e5 mm3 of rubber (DERIVED)', () => {
    const areaM2 = treadRubberAreaM2(0.44, 0.1, 0.8);
    expect(Math.abs(areaM2 * 0.006 * 1e9 - 6.6e5)).toBeLessThan(0.05e5);
    expect(wornDepthM(6.635e-4, areaM2)).toBeCloseTo(0.006, 5);
  });

  test('depth is proportional to volume, and half the area wears twice as deep', () => {
    expect(wornDepthM(2e-6, 0.4)).toBeCloseTo(5e-6, 18);
    expect(wornDepthM(4e-6, 0.4)).toBeCloseTo(1e-5, 18);
    expect(wornDepthM(2e-6, 0.2)).toBeCloseTo(1e-5, 18);
  });

  test('grooves carry no rubber: the area is the band around the tire times the land ratio', () => {
    expect(treadRubberAreaM2(0.7, 0.2, 1)).toBeCloseTo(Math.PI * 0.14, 12);
    expect(treadRubberAreaM2(0.7, 0.2, 0.75)).toBeCloseTo(Math.PI * 0.105, 12);
  });
});
