import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ambientPressurePa, standardTemperatureK } from '../../lib/models/atmosphere.js';
import {
  REFERENCE_TEMPERATURE_K,
  gaugePressurePa,
  referencePressurePa,
  remainingExcessShare,
} from '../../lib/models/inflation.js';

// Published rules and readings (1 % per 5 degF, leak limits, field case) are in tests/published/physics.test.ts.

fc.configureGlobal({ seed: 20_260_202 });

const PSI_PA = 6894.757293168;
const FOOT_M = 0.3048;
const SEA_LEVEL_PA = ambientPressurePa(0);

function kelvinOfFahrenheit(degF: number): number {
  return ((degF + 459.67) * 5) / 9;
}

const STANDARD_DAY_K = kelvinOfFahrenheit(59);

/** Gauge pressure in psi of a tire set at sea level, 59 degF. */
function gaugePsi(setPsi: number, ambientPa: number, temperatureK: number): number {
  const referencePa = referencePressurePa(setPsi * PSI_PA, SEA_LEVEL_PA, STANDARD_DAY_K);
  return gaugePressurePa(referencePa, ambientPa, temperatureK) / PSI_PA;
}

describe('gauge pressure against temperature', () => {
  // DERIVED: gas law of a rigid volume, set at 59 degF at sea level. Columns: set psi, change per 5 degF in psi and
  // in percent of gauge, change for 50 degF in psi and in percent of gauge.
  test.each<[number, number, number, number, number]>([
    [9, 0.228, 2.54, 2.28, 25.4],
    [25, 0.383, 1.53, 3.83, 15.3],
    [50, 0.624, 1.25, 6.24, 12.5],
    [219, 2.253, 1.03, 22.5, 10.3],
  ])('a tire at %d psi changes by %d psi per 5 degF', (set, per5, percentPer5, drop50, percent50) => {
    const change5 = gaugePsi(set, SEA_LEVEL_PA, kelvinOfFahrenheit(64)) - set;
    const change50 = set - gaugePsi(set, SEA_LEVEL_PA, kelvinOfFahrenheit(9));
    expect(Math.abs(change5 - per5)).toBeLessThanOrEqual(0.0005);
    expect(Math.abs((100 * change5) / set - percentPer5)).toBeLessThanOrEqual(0.005);
    expect(Math.abs(change50 - drop50)).toBeLessThanOrEqual(drop50 > 10 ? 0.05 : 0.005);
    expect(Math.abs((100 * change50) / set - percent50)).toBeLessThanOrEqual(0.05);
  });
});

describe('gauge pressure against elevation', () => {
  // DERIVED: set at sea level, 59 degF; then, per elevation, at the same gas temperature and at the temperature of
  // the standard atmosphere.
  test.each<[number, number, number, number]>([
    [9, 2000, 10.03, 9.71],
    [9, 5000, 11.47, 10.65],
    [9, 8000, 12.78, 11.48],
    [9, 10_000, 13.59, 11.96],
    [25, 2000, 26.03, 25.49],
    [25, 5000, 27.47, 26.1],
    [25, 8000, 28.78, 26.6],
    [25, 10_000, 29.59, 26.86],
    [50, 2000, 51.03, 50.14],
    [50, 5000, 52.47, 50.24],
    [50, 8000, 53.78, 50.22],
    [50, 10_000, 54.59, 50.14],
  ])('a tire set to %d psi reads at %d ft: %d psi warm, %d psi in standard air', (set, feet, warm, cold) => {
    const elevationM = feet * FOOT_M;
    const ambientPa = ambientPressurePa(elevationM);
    expect(Math.abs(gaugePsi(set, ambientPa, STANDARD_DAY_K) - warm)).toBeLessThanOrEqual(0.0051);
    expect(Math.abs(gaugePsi(set, ambientPa, standardTemperatureK(elevationM)) - cold)).toBeLessThanOrEqual(
      0.0051,
    );
  });
});

describe('amount of gas', () => {
  const gaugePa = fc.double({ min: 0, max: 1.6e6, noNaN: true });
  const ambientPa = fc.double({ min: 5e4, max: 1.05e5, noNaN: true });
  const temperatureK = fc.double({ min: 230, max: 330, noNaN: true });

  test('setting a pressure and reading it in the same air gives it back', () => {
    fc.assert(
      fc.property(gaugePa, ambientPa, temperatureK, (gauge, ambient, temperature) => {
        const reference = referencePressurePa(gauge, ambient, temperature);
        expect(Math.abs(gaugePressurePa(reference, ambient, temperature) - gauge)).toBeLessThan(1e-9);
      }),
    );
  });

  test('is the absolute pressure itself at the reference temperature', () => {
    expect(referencePressurePa(100_000, 90_000, REFERENCE_TEMPERATURE_K)).toBe(190_000);
  });

  test('is not changed by the air it is read in: absolute pressure follows absolute temperature', () => {
    fc.assert(
      fc.property(gaugePa, ambientPa, temperatureK, temperatureK, (gauge, ambient, first, second) => {
        fc.pre((gauge + ambient) * second >= ambient * first);
        const reference = referencePressurePa(gauge, ambient, first);
        const absolute = gaugePressurePa(reference, ambient, second) + ambient;
        expect(absolute / (gauge + ambient)).toBeCloseTo(second / first, 10);
      }),
    );
  });

  test('leaves a flat tire at zero gauge, never below, however cold or low it is taken', () => {
    const empty = referencePressurePa(0, ambientPressurePa(3000), 300);
    expect(gaugePressurePa(empty, SEA_LEVEL_PA, 250)).toBe(0);
    fc.assert(
      fc.property(gaugePa, ambientPa, ambientPa, temperatureK, temperatureK, (gauge, p1, p2, t1, t2) => {
        expect(gaugePressurePa(referencePressurePa(gauge, p1, t1), p2, t2)).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

describe('share of the excess pressure that is kept', () => {
  const lossPerDay = fc.double({ min: 0, max: 0.5, noNaN: true });
  const days = fc.double({ min: 0, max: 400, noNaN: true });

  test('is 1 with no time or no leak, and falls with both', () => {
    fc.assert(
      fc.property(lossPerDay, days, (rate, time) => {
        expect(remainingExcessShare(rate, 0)).toBe(1);
        expect(remainingExcessShare(0, time)).toBe(1);
        const kept = remainingExcessShare(rate, time);
        expect(kept).toBeLessThanOrEqual(1);
        expect(kept).toBeGreaterThan(0);
        expect(remainingExcessShare(rate + 0.01, time + 1)).toBeLessThan(kept);
      }),
    );
  });

  test('of two intervals in a row is the product: two halves make the whole', () => {
    fc.assert(
      fc.property(lossPerDay, days, days, (rate, first, second) => {
        const whole = remainingExcessShare(rate, first + second);
        const product = remainingExcessShare(rate, first) * remainingExcessShare(rate, second);
        expect(product / whole).toBeCloseTo(1, 12);
        const half = remainingExcessShare(rate, first / 2);
        expect((half * half) / remainingExcessShare(rate, first)).toBeCloseTo(1, 12);
      }),
    );
  });

  test('solves dp/dt = -k (p - P): a step-by-step integration arrives at the same pressure', () => {
    // DERIVED: permeation driven by the pressure difference; classical Runge-Kutta steps.
    const rate = 0.03;
    const ambientPa = 90_000;
    const stepDays = 0.05;
    const slope = (pressurePa: number): number => -rate * (pressurePa - ambientPa);
    let pressurePa = 262_000;
    for (let step = 0; step < 600; step++) {
      const k1 = slope(pressurePa);
      const k2 = slope(pressurePa + 0.5 * stepDays * k1);
      const k3 = slope(pressurePa + 0.5 * stepDays * k2);
      const k4 = slope(pressurePa + stepDays * k3);
      pressurePa += (stepDays * (k1 + 2 * k2 + 2 * k3 + k4)) / 6;
    }
    const exact = ambientPa + (262_000 - ambientPa) * remainingExcessShare(rate, 30);
    expect(Math.abs(pressurePa - exact)).toBeLessThan(1e-4);
  });
});
