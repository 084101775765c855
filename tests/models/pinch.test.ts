import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LOW_PRESSURE_CONSTANT, deflectionM, verticalLoadN } from '../../lib/models/contact.js';
import { impactDeflectionM, pinchChance } from '../../lib/models/pinch.js';
import { SCALE_OVER_MEDIAN } from '../../lib/models/stones.js';

fc.configureGlobal({ seed: 20_260_209 });

/** Work above the static load over a further deflection, by Simpson's rule on the load-deflection law. */
function storedEnergyJ(fromM: number, furtherM: number, stiffnessN: number, widthM: number): number {
  const cells = 400;
  const step = furtherM / cells;
  const excessN = (i: number): number =>
    verticalLoadN(fromM + i * step, stiffnessN, widthM) - verticalLoadN(fromM, stiffnessN, widthM);
  let sum = excessN(0) + excessN(cells);
  for (let i = 1; i < cells; i++) sum += (i % 2 === 1 ? 4 : 2) * excessN(i);
  return (sum * step) / 3;
}

describe('extra deflection from the sink rate', () => {
  const sinkMps = fc.double({ min: 0.1, max: 3, noNaN: true });
  const massKg = fc.double({ min: 200, max: 900, noNaN: true });
  const stiffnessN = fc.double({ min: 4000, max: 60_000, noNaN: true });
  const widthM = fc.double({ min: 0.12, max: 0.3, noNaN: true });

  test('stores the share of the sink energy exactly, where the load-deflection law is straight', () => {
    fc.assert(
      fc.property(sinkMps, massKg, stiffnessN, widthM, (sink, mass, stiffness, width) => {
        const furtherM = impactDeflectionM(sink, mass, 0.3, stiffness, width);
        const staticM = 0.11 * width;
        const stored = storedEnergyJ(staticM, furtherM, stiffness, width);
        expect(stored / (0.3 * 0.5 * mass * sink * sink)).toBeCloseTo(1, 9);
      }),
    );
  });

  test('falls short by no more than C w when the impact starts on the softer parabola below', () => {
    // DERIVED: beyond the branch point the load is that of the straight line moved by C w (C = 0.03).
    const start = fc.double({ min: 0, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(sinkMps, massKg, stiffnessN, widthM, start, (sink, mass, stiffness, width, ratio) => {
        const energyJ = 0.3 * 0.5 * mass * sink * sink;
        const furtherM = impactDeflectionM(sink, mass, 0.3, stiffness, width);
        const lowest = storedEnergyJ(ratio * width, furtherM, stiffness, width);
        const highest = storedEnergyJ(
          ratio * width,
          furtherM + LOW_PRESSURE_CONSTANT * width,
          stiffness,
          width,
        );
        expect(lowest).toBeLessThanOrEqual(energyJ * (1 + 1e-9));
        expect(highest).toBeGreaterThanOrEqual(energyJ * (1 - 1e-9));
      }),
    );
  });

  test('is none without sink, doubles with it, and grows with the mass and the share the tire takes', () => {
    expect(impactDeflectionM(0, 600, 0.3, 20_000, 0.25)).toBe(0);
    const base = impactDeflectionM(0.5, 600, 0.3, 20_000, 0.25);
    expect(impactDeflectionM(1, 600, 0.3, 20_000, 0.25)).toBeCloseTo(2 * base, 12);
    expect(impactDeflectionM(0.5, 2400, 0.3, 20_000, 0.25)).toBeCloseTo(2 * base, 12);
    expect(impactDeflectionM(0.5, 600, 0.075, 20_000, 0.25)).toBeCloseTo(0.5 * base, 12);
    expect(impactDeflectionM(0.5, 600, 0.3, 80_000, 0.25)).toBeCloseTo(0.5 * base, 12);
  });

  test('worked by hand: 578 kg at 0.8 m/s, a third to a tire of 22 kN and 0.28 m sinks 26 mm more', () => {
    // Energy 0.5 x 578 x 0.64 / 3 = 61.65 J; spring 2.4 x 22 000 / 0.28 = 188 571 N/m;
    // deflection sqrt(2 x 61.65 / 188 571) = 0.02557 m from a load at which the law is straight.
    expect(impactDeflectionM(0.8, 578, 1 / 3, 22_000, 0.28)).toBeCloseTo(0.02557, 5);
    expect(deflectionM(4000, 22_000, 0.28)).toBeGreaterThan(0.1 * 0.28);
  });
});

describe('chance of a pinch on one rock edge', () => {
  test('is certain once the tire has bottomed', () => {
    expect(pinchChance(0, 0.03)).toBe(1);
    expect(pinchChance(-0.01, 0.03)).toBe(1);
  });

  test('is one half where half of the edges stand as high as the height left', () => {
    expect(pinchChance(0.02, 0.02 * SCALE_OVER_MEDIAN)).toBeCloseTo(0.5, 12);
  });

  test('worked by hand: 5 mm left over edges of scale 10 mm is 1.5^-3, 8 in 27', () => {
    expect(pinchChance(0.005, 0.01)).toBeCloseTo(8 / 27, 12);
  });

  test('goes to certainty without a jump as the height left goes to nothing', () => {
    expect(pinchChance(1e-9, 0.03)).toBeCloseTo(1, 6);
  });

  test('never rises with the height left, nor falls with the scale of the edges', () => {
    const heightM = fc.double({ min: -0.05, max: 0.3, noNaN: true });
    const scaleM = fc.double({ min: 0.001, max: 0.1, noNaN: true });
    fc.assert(
      fc.property(heightM, scaleM, fc.double({ min: 1e-4, max: 0.1, noNaN: true }), (height, scale, more) => {
        expect(pinchChance(height + more, scale)).toBeLessThanOrEqual(pinchChance(height, scale));
        expect(pinchChance(height, scale + more)).toBeGreaterThanOrEqual(pinchChance(height, scale));
      }),
    );
  });
});
