import { expect, test } from 'vitest';
import {
  SPIN_DOWN_COEFFICIENT,
  SPIN_UP_COEFFICIENT,
  hydroplaningSpeedMps,
} from '../../lib/models/hydroplaning.js';

// The law and published examples are checked in tests/published/physics.test.ts.

const PSI_PA = 6894.757293168;

test('a rolling wheel is assumed when nothing else is said', () => {
  expect(hydroplaningSpeedMps(30 * PSI_PA)).toBe(hydroplaningSpeedMps(30 * PSI_PA, SPIN_DOWN_COEFFICIENT));
});

test('a wheel not yet turning rides up at 77/90 of the speed', () => {
  const ratio = hydroplaningSpeedMps(2e5, SPIN_UP_COEFFICIENT) / hydroplaningSpeedMps(2e5);
  expect(ratio).toBeCloseTo(77 / 90, 12);
});

test('four times the pressure doubles the speed, no pressure gives none', () => {
  expect(hydroplaningSpeedMps(4e5) / hydroplaningSpeedMps(1e5)).toBeCloseTo(2, 12);
  expect(hydroplaningSpeedMps(0)).toBe(0);
});

test('the same law in other units: 10.35 sqrt(psi) mph and 6.35 sqrt(kPa) km/h (DERIVED)', () => {
  expect(Math.abs(hydroplaningSpeedMps(PSI_PA) / 0.44704 - 10.35)).toBeLessThan(0.01);
  expect(Math.abs(hydroplaningSpeedMps(1000) * 3.6 - 6.35)).toBeLessThan(0.005);
});
