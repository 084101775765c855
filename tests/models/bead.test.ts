import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { beadHoldingTorqueNm, brakingTorqueNm } from '../../lib/models/bead.js';

fc.configureGlobal({ seed: 20_260_205 });

const INCH_M = 0.0254;
const PSI_PA = 6894.757293168;
const LBF_N = 4.4482216152605;
const INCH_POUND_NM = INCH_M * LBF_N;

describe('bead torque table (membrane balance DERIVED; bead friction 0.3 ASSUMPTION)', () => {
  // Columns: pressure psi, R_m and R_b in, axial force per bead lb, holding torque in-lb at the flange radius
  // R_b + 0.4 in, wheel load lb, loaded radius in, torque of braking at 0.5 of the load in-lb, verdict.
  // The model takes friction at the bead seat, R_b, not at R_b + 0.4 in, so its holding torque is the
  // tabulated one times R_b / (R_b + 0.4): a little less, on the careful side. The verdicts are the same.
  const rows = [
    ['17 in standard', 29, 5.9, 3, 2351, 4797, 1150, 7, 4025, 'holds'],
    ['26 in', 25, 8, 3, 4320, 8812, 1200, 11.5, 6900, 'holds'],
    ['29 in soft', 9, 8.8, 3, 1935, 3948, 1200, 12.6, 7560, 'slips'],
  ] as const;

  test.each(rows)(
    '%s at %d psi',
    (_name, psi, widestIn, beadIn, forceLbf, torque, load, radius, braking, verdict) => {
      const holding =
        beadHoldingTorqueNm(psi * PSI_PA, widestIn * INCH_M, beadIn * INCH_M, 0.3, 0) / INCH_POUND_NM;
      expect(Math.abs(holding / (2 * 0.3 * beadIn) - forceLbf)).toBeLessThanOrEqual(0.5);
      // Half a unit of the printed torque.
      expect(Math.abs(holding - (torque * beadIn) / (beadIn + 0.4))).toBeLessThanOrEqual(0.5);
      const demand = brakingTorqueNm(0.5, load * LBF_N, radius * INCH_M) / INCH_POUND_NM;
      expect(Math.abs(demand - braking)).toBeLessThanOrEqual(0.5);
      expect(demand > holding ? 'slips' : 'holds').toBe(verdict);
    },
  );
});

describe('holding torque', () => {
  test('comes from the pressure on the ring between bead and widest point, pressed on two beads', () => {
    // Thin rings of pressure, added up.
    const gaugePa = 150_000;
    const [beadM, widestM] = [0.076, 0.2];
    const rings = 10_000;
    const step = (widestM - beadM) / rings;
    let forceN = 0;
    for (let i = 0; i < rings; i++) forceN += gaugePa * 2 * Math.PI * (beadM + (i + 0.5) * step) * step;
    expect(beadHoldingTorqueNm(gaugePa, widestM, beadM, 0.4, 0)).toBeCloseTo(2 * 0.4 * forceN * beadM, 6);
  });

  test('is the ledge torque alone on a flat tire, and grows with pressure, friction and section', () => {
    expect(beadHoldingTorqueNm(0, 0.2, 0.076, 0.3, 700)).toBe(700);
    const pressurePa = fc.double({ min: 1e4, max: 4e5, noNaN: true });
    const widestM = fc.double({ min: 0.1, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(pressurePa, widestM, (gauge, widest) => {
        const base = beadHoldingTorqueNm(gauge, widest, 0.076, 0.3, 700);
        expect(base).toBeGreaterThan(700);
        expect(beadHoldingTorqueNm(gauge + 100, widest, 0.076, 0.3, 700)).toBeGreaterThan(base);
        expect(beadHoldingTorqueNm(gauge, widest + 0.001, 0.076, 0.3, 700)).toBeGreaterThan(base);
        expect(beadHoldingTorqueNm(gauge, widest, 0.076, 0.31, 700)).toBeGreaterThan(base);
        expect(beadHoldingTorqueNm(gauge, widest, 0.076, 0.3, 701)).toBeCloseTo(base + 1, 9);
      }),
    );
  });
});
