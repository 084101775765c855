import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  brakingWorkJ,
  pivotWorkJ,
  rollingResistanceRatio,
  scrubWorkJ,
  spinUpWorkJ,
  squirmWorkJ,
  wheelInertiaKgM2,
} from '../../lib/models/slip-work.js';

fc.configureGlobal({ seed: 20_260_206 });

const KNOT_MPS = 0.514444;
const PSI_PA = 6894.757293168;

interface SpinUp {
  readonly slipWorkJ: number;
  readonly timeS: number;
  readonly slipM: number;
}

/** Spins a wheel up under constant friction, in small steps of the midpoint rule, and adds up what slides. */
function spinUpByTimeSteps(
  inertiaKgM2: number,
  speedMps: number,
  radiusM: number,
  friction: number,
  loadN: number,
): SpinUp {
  const forceN = friction * loadN;
  const stepS = (inertiaKgM2 * speedMps) / (radiusM * forceN * radiusM) / 20_000;
  let spinRadps = 0;
  let slipWorkJ = 0;
  let timeS = 0;
  let slipM = 0;
  while (spinRadps * radiusM < speedMps) {
    const gain = (forceN * radiusM * stepS) / inertiaKgM2;
    const slidingMps = speedMps - (spinRadps + 0.5 * gain) * radiusM;
    slipWorkJ += forceN * slidingMps * stepS;
    slipM += slidingMps * stepS;
    spinRadps += gain;
    timeS += stepS;
  }
  return { slipWorkJ, timeS, slipM };
}

describe('spin-up at touchdown', () => {
  // DERIVED, standard mechanics; the inertias are ASSUMPTIONS, friction 0.7 and load 4000 N.
  // Columns: inertia kg m2, radius m, speed kt, spin rad/s, slip work J, time s, slip distance m.
  const rows = [
    ['6.00-6', 0.2, 0.205, 50, 125.5, 1574, 0.044, 0.56],
    ['8.50-6', 0.6, 0.265, 45, 87.4, 2289, 0.071, 0.82],
    ['26 in', 0.9, 0.315, 45, 73.5, 2430, 0.075, 0.87],
    ['29 in soft', 1.3, 0.345, 45, 67.1, 2927, 0.09, 1.05],
  ] as const;

  test.each(rows)('golden row %s', (_name, inertia, radiusM, knots, spin, workJ, timeS, slipM) => {
    const speedMps = knots * KNOT_MPS;
    expect(Math.abs(speedMps / radiusM - spin)).toBeLessThanOrEqual(0.05);
    expect(Math.abs(spinUpWorkJ(inertia, speedMps, radiusM) - workJ)).toBeLessThanOrEqual(0.5);
    const stepped = spinUpByTimeSteps(inertia, speedMps, radiusM, 0.7, 4000);
    expect(Math.abs(stepped.timeS - timeS)).toBeLessThanOrEqual(0.00051);
    expect(Math.abs(stepped.slipM - slipM)).toBeLessThanOrEqual(0.0051);
  });

  test('with the 0.28 kg m2 seen in flight-model code the 6.00-6 row is 2204 J (DERIVED)', () => {
    expect(Math.abs(spinUpWorkJ(0.28, 50 * KNOT_MPS, 0.205) - 2204)).toBeLessThanOrEqual(0.5);
  });

  test.each([
    [0.2, 1000],
    [0.7, 4000],
    [0.9, 9000],
  ])(
    'a step-by-step spin-up at friction %d under %d N slides off I w^2 / 2 all the same',
    (friction, loadN) => {
      const stepped = spinUpByTimeSteps(0.9, 23, 0.315, friction, loadN);
      expect(stepped.slipWorkJ / spinUpWorkJ(0.9, 23, 0.315)).toBeCloseTo(1, 6);
    },
  );
});

describe('braking', () => {
  test('worked value: 1089 kg at 50 kt, 40 % by two brakes at 5 % slip, slides off 3.6 kJ per tire (DERIVED)', () => {
    const speedMps = 50 * KNOT_MPS;
    expect(Math.abs(0.5 * 1089 * speedMps * speedMps - 3.6e5)).toBeLessThan(500);
    expect(Math.abs(brakingWorkJ(1089, speedMps, 0.4, 1, 2) - 72_000)).toBeLessThan(100);
    expect(Math.abs(brakingWorkJ(1089, speedMps, 0.4, 0.05, 2) - 3600)).toBeLessThan(5);
  });

  test('adds up, step by step, to slip ratio times braking force times distance', () => {
    // A stop at constant deceleration; the brakes give 60 % of the retarding force, two wheels share them.
    const [massKg, speedMps, brakedShare, slipRatio] = [1400, 25, 0.6, 0.07];
    const decelerationMps2 = 2.5;
    const forceN = (massKg * decelerationMps2 * brakedShare) / 2;
    const steps = 50_000;
    const stepS = speedMps / decelerationMps2 / steps;
    let workJ = 0;
    for (let i = 0; i < steps; i++) {
      workJ += forceN * slipRatio * (speedMps - decelerationMps2 * (i + 0.5) * stepS) * stepS;
    }
    expect(brakingWorkJ(massKg, speedMps, brakedShare, slipRatio, 2)).toBeCloseTo(workJ, 6);
  });
});

describe('pivot on a locked wheel', () => {
  test('takes the friction moment of a uniformly loaded disc, added up cell by cell', () => {
    const [loadN, friction, radiusM, angleRad] = [5500, 0.7, 0.12, Math.PI / 2];
    const cells = 1000;
    const cellM = (2 * radiusM) / cells;
    let inside = 0;
    let lever = 0;
    for (let i = 0; i < cells; i++) {
      const x = (i + 0.5) * cellM - radiusM;
      for (let j = 0; j < cells; j++) {
        const y = (j + 0.5) * cellM - radiusM;
        const distanceM = Math.sqrt(x * x + y * y);
        if (distanceM > radiusM) continue;
        inside += 1;
        lever += distanceM;
      }
    }
    const momentNm = friction * loadN * (lever / inside);
    expect(pivotWorkJ(loadN, friction, radiusM, angleRad) / (momentNm * angleRad)).toBeCloseTo(1, 4);
  });
});

describe('rolling', () => {
  test('resistance is a straight line in 1/p: halfway in 1/p is halfway in resistance', () => {
    const inverse = fc.double({ min: 1 / 4e5, max: 1 / 2e4, noNaN: true });
    fc.assert(
      fc.property(inverse, inverse, (first, second) => {
        const at = (inversePa: number): number => rollingResistanceRatio(0.012, 2400, 1 / inversePa);
        expect(at(0.5 * (first + second))).toBeCloseTo(0.5 * (at(first) + at(second)), 12);
      }),
    );
    expect(rollingResistanceRatio(0.02, 0.35 * PSI_PA, 9 * PSI_PA)).toBeCloseTo(0.02 + 0.35 / 9, 12);
    expect(rollingResistanceRatio(0.012, 0.35 * PSI_PA, 50 * PSI_PA)).toBeCloseTo(0.019, 12);
  });

  test('resistance rises as air is lost, and stays finite on a flat tire', () => {
    expect(rollingResistanceRatio(0.012, 2400, 8e4)).toBeGreaterThan(
      rollingResistanceRatio(0.012, 2400, 1e5),
    );
    expect(rollingResistanceRatio(0.012, 2400, 0)).toBeCloseTo(0.012 + 0.24, 12);
    expect(rollingResistanceRatio(0.012, 2400, 5000)).toBe(rollingResistanceRatio(0.012, 2400, 0));
  });

  test('squirm worked by hand: 4 % of 4000 N over 1000 m is 160 kJ, of which 5 % slides: 8 kJ', () => {
    expect(squirmWorkJ(0.04, 4000, 1000, 0.05)).toBeCloseTo(8000, 9);
  });

  test('scrub worked by hand: 0.03 % of 4000 N over 900 m is 1080 J', () => {
    expect(scrubWorkJ(4000, 900, 0.0003)).toBeCloseTo(1080, 9);
  });

  test('squirm and scrub are proportional to load and to distance', () => {
    const loadN = fc.double({ min: 100, max: 1e4, noNaN: true });
    const distanceM = fc.double({ min: 10, max: 5000, noNaN: true });
    fc.assert(
      fc.property(loadN, distanceM, (load, distance) => {
        expect(squirmWorkJ(0.03, 2 * load, distance, 0.06) / squirmWorkJ(0.03, load, distance, 0.06)).toBe(2);
        expect(squirmWorkJ(0.03, load, 2 * distance, 0.06) / squirmWorkJ(0.03, load, distance, 0.06)).toBe(2);
        expect(scrubWorkJ(2 * load, distance, 3e-4) / scrubWorkJ(load, distance, 3e-4)).toBe(2);
        expect(scrubWorkJ(load, 2 * distance, 3e-4) / scrubWorkJ(load, distance, 3e-4)).toBe(2);
      }),
    );
  });
});

describe('moment of inertia', () => {
  test('a tire with all its mass at the tread is a hoop; at 1/sqrt(2) of the radius it is a disc', () => {
    // Standard mechanics: m R^2 and m R^2 / 2.
    expect(wheelInertiaKgM2(0, 10, 0.7, 1)).toBeCloseTo(10 * 0.35 * 0.35, 12);
    expect(wheelInertiaKgM2(0, 10, 0.7, Math.SQRT1_2)).toBeCloseTo((10 * 0.35 * 0.35) / 2, 12);
  });

  test('the hub adds to the tire', () => {
    expect(wheelInertiaKgM2(0.12, 4, 0.44, 0.75)).toBeCloseTo(0.12 + 4 * 0.165 * 0.165, 12);
  });
});
