import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  LAPSE_RATE_K_PER_M,
  SEA_LEVEL_PRESSURE_PA,
  SEA_LEVEL_TEMPERATURE_K,
  STANDARD_GRAVITY_MPS2,
  ambientPressurePa,
  standardTemperatureK,
} from '../../lib/models/atmosphere.js';

// The table of the U.S. Standard Atmosphere, 1976, is checked in tests/published/physics.test.ts.

fc.configureGlobal({ seed: 20_260_201 });

const elevationM = fc.double({ min: -500, max: 11_000, noNaN: true });

describe('the defining constants of the U.S. Standard Atmosphere, 1976', () => {
  test('stand at sea level as defined: 101 325 Pa and 288.15 K', () => {
    // VERIFIED (reference texts quote 101325 Pa and 59 degF at sea level).
    expect(ambientPressurePa(0)).toBe(101_325);
    expect(standardTemperatureK(0)).toBe(288.15);
    expect([SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_TEMPERATURE_K]).toEqual([101_325, 288.15]);
  });

  test('give the exponent of the pressure law as g / (R L)', () => {
    // g0 = 9.80665 m/s2, R = 287.05287 J/(kg K): FROM MEMORY (high). The exponent 5.255876: VERIFIED.
    expect(STANDARD_GRAVITY_MPS2).toBe(9.80665);
    expect(STANDARD_GRAVITY_MPS2 / (287.05287 * LAPSE_RATE_K_PER_M)).toBeCloseTo(5.255876, 5);
  });
});

test('a thin layer of air weighs what the pressure drops across it', () => {
  // DERIVED: hydrostatic balance of an ideal gas, dP/dh = -g P / (R T); R FROM MEMORY (high). The published exponent
  // is rounded to seven figures, hence the tolerance.
  const gasConstant = 287.05287;
  fc.assert(
    fc.property(elevationM, (height) => {
      const halfLayerM = 0.5;
      const slope = ambientPressurePa(height + halfLayerM) - ambientPressurePa(height - halfLayerM);
      const density = ambientPressurePa(height) / (gasConstant * standardTemperatureK(height));
      expect(slope / (-STANDARD_GRAVITY_MPS2 * density)).toBeCloseTo(1, 5);
    }),
  );
});

test('pressure falls with elevation, and so does temperature, by 6.5 K per 1000 m', () => {
  fc.assert(
    fc.property(elevationM, fc.double({ min: 0.1, max: 1000, noNaN: true }), (height, rise) => {
      expect(ambientPressurePa(height + rise)).toBeLessThan(ambientPressurePa(height));
      const drop = standardTemperatureK(height) - standardTemperatureK(height + rise);
      expect(drop).toBeCloseTo((6.5 * rise) / 1000, 9);
    }),
  );
});
