import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  LEAST_PROPELLER_CLEARANCE_NOSE_WHEEL_M,
  LEAST_PROPELLER_CLEARANCE_TAIL_WHEEL_M,
  propellerClearanceM,
  propellerClearanceOnFlatM,
} from '../../lib/models/propeller-clearance.js';
import { pitchChangeRad, riseAtM, tailAngleRad } from '../../lib/models/stance.js';

fc.configureGlobal({ seed: 20_260_222 });

const riseM = fc.double({ min: -0.3, max: 0.3, noNaN: true });
const positionM = fc.double({ min: -6, max: 6, noNaN: true });
const wheelbaseM = fc.double({ min: 0.5, max: 6, noNaN: true });
const direction = fc.constantFrom(1, -1);

describe('the lever of both axles', () => {
  test('axles rise as they do, and both together raise every point alike', () => {
    fc.assert(
      fc.property(positionM, wheelbaseM, direction, riseM, riseM, (x, base, sign, main, third) => {
        const at = sign * base;
        expect(riseAtM(0, at, main, third)).toBeCloseTo(main, 12);
        expect(riseAtM(at, at, main, third)).toBeCloseTo(third, 12);
        expect(riseAtM(x, at, main, main)).toBeCloseTo(main, 12);
      }),
    );
  });

  test('agrees with turning a rigid body by the exact angle, to the square of the angle', () => {
    fc.assert(
      fc.property(positionM, wheelbaseM, riseM, riseM, (x, base, main, third) => {
        const angle = Math.asin(Math.max(-1, Math.min(1, (third - main) / base)));
        const exact = main + x * Math.sin(angle);
        expect(Math.abs(riseAtM(x, base, main, third) - exact)).toBeLessThan(1e-9 + Math.abs(x) * angle ** 2);
        expect(Math.abs(pitchChangeRad(base, main, third) - angle)).toBeLessThanOrEqual(Math.abs(angle) ** 3);
      }),
    );
  });

  test('by hand: wheelbase 1.5 m, mains 60 mm up, nose 15 mm up', () => {
    // Slope (15 - 60) / 1500 = -0.03 rad: nose down. Tail point 4 m behind: 60 + 4000 x 0.03 = 180 mm up.
    expect(pitchChangeRad(1.5, 0.06, 0.015)).toBeCloseTo(-0.03, 12);
    expect(riseAtM(-4, 1.5, 0.06, 0.015)).toBeCloseTo(0.18, 12);
    // A tail wheel 5 m behind, mains 60 mm up, tail wheel as before: nose up by 60 / 5000.
    expect(pitchChangeRad(-5, 0.06, 0)).toBeCloseTo(0.012, 12);
  });

  test('larger main tires raise the tail, a larger nose tire alone lowers it (common practice, no source)', () => {
    expect(riseAtM(-4, 1.7, 0.1, 0)).toBeGreaterThan(0.1);
    expect(riseAtM(-4, 1.7, 0, 0.1)).toBeLessThan(0);
  });
});

describe('the angle until the tail touches', () => {
  test('is that of the slope, never more, and within 3e-5 of it up to 14 degrees (x^4 / 180)', () => {
    const angle = fc.double({ min: 0.001, max: 14, noNaN: true });
    fc.assert(
      fc.property(angle, fc.double({ min: 1, max: 8, noNaN: true }), (degrees, behind) => {
        const exact = (degrees * Math.PI) / 180;
        const found = tailAngleRad(behind * Math.tan(exact), behind);
        expect(found / exact).toBeGreaterThan(1 - 3e-5);
        expect(found / exact).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });
});

describe('propeller clearance', () => {
  const nose = { gear: 'nose', propellerAheadM: 2, wheelbaseM: 1.6, measuredM: 0.22 } as const;
  const tail = { gear: 'tail', propellerAheadM: 1, wheelbaseM: 5, measuredM: 0.3 } as const;

  test('limits: 7 in with a nose wheel, 9 in with a tail wheel (14 CFR 23.925 before 2017, from memory)', () => {
    expect(LEAST_PROPELLER_CLEARANCE_NOSE_WHEEL_M).toBeCloseTo(0.1778, 12);
    expect(LEAST_PROPELLER_CLEARANCE_TAIL_WHEEL_M).toBeCloseTo(0.2286, 12);
  });

  test('by hand, nose wheel: the propeller 1.25 wheelbases ahead', () => {
    // Nose down 40 mm on a soft tire: 40 x 1.25 = 50 mm lost.
    expect(propellerClearanceM(nose, 0, -0.04)).toBeCloseTo(0.17, 12);
    // Mains up 40 mm alone: 40 x (1 - 1.25) = -10 mm.
    expect(propellerClearanceM(nose, 0.04, 0)).toBeCloseTo(0.21, 12);
    // Nose tire flat, 100 mm down onto the rim, and 60 mm of strut: 160 x 1.25 = 200 mm lost.
    expect(propellerClearanceOnFlatM(nose, 0, 0, 0.16)).toBeCloseTo(0.02, 12);
  });

  test('by hand, tail wheel: level, so it follows the mains; one flat main tire lowers the middle by half', () => {
    expect(propellerClearanceM(tail, 0.05, -0.1)).toBeCloseTo(0.35, 12);
    expect(propellerClearanceOnFlatM(tail, 0.05, 0, 0.2)).toBeCloseTo(0.25, 12);
  });

  test('a deeper drop never leaves more clearance', () => {
    const drop = fc.double({ min: 0, max: 0.4, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(nose, tail), riseM, riseM, drop, drop, (stance, main, third, d, more) => {
        const base = propellerClearanceOnFlatM(stance, main, third, d);
        expect(propellerClearanceOnFlatM(stance, main, third, d + more)).toBeLessThanOrEqual(base);
        expect(propellerClearanceOnFlatM(stance, main, third, 0)).toBe(
          propellerClearanceM(stance, main, third),
        );
      }),
    );
  });
});
