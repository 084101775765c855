import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  buildQuantileTable,
  gammaUnitMeanQuantileTable,
  quantileAtZ,
} from '../../lib/numeric/quantile-table.js';
import { gammaQuantile, gammaQuantileUpper, normalCdf } from '../../lib/numeric/special.js';

/** Scores of some upper-tail chances: 5 %, 1 %, 0.1 % (standard normal tables), and 50 %. */
const Z_95 = 1.6448536269514722;
const Z_975 = 1.959963984540054;
const Z_99 = 2.3263478740408408;
const Z_999 = 3.090232306167813;

/** Accurate gamma quantile of mean 1 at a score, from the smaller tail. */
function gammaAtScore(cv: number, z: number): number {
  const scale = cv * cv;
  return z <= 0
    ? gammaQuantile(normalCdf(z), 1 / scale, scale)
    : gammaQuantileUpper(normalCdf(-z), 1 / scale, scale);
}

/** Integral of f(z) times the standard normal density, by the trapezoid rule over [-8, 8]. */
function normalMean(f: (z: number) => number): number {
  let sum = 0;
  for (let k = -2048; k <= 2048; k += 1) {
    const z = k / 256;
    sum += (f(z) * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI) / 256;
  }
  return sum;
}

describe('gammaUnitMeanQuantileTable', () => {
  // A chi-square variable with n degrees of freedom is n times a gamma variable of mean 1 and cv sqrt(2/n).
  // Chi-square critical values: published tables, recomputed in R.
  test.each([
    [9, Z_95, 16.9189776],
    [9, Z_99, 21.6659943],
    [9, Z_999, 27.8771649],
    [99, Z_95, 123.2252],
    [99, Z_975, 128.422],
    [99, Z_999, 148.2304],
    [99, -Z_975, 73.3611],
  ])('chi-square with %d degrees of freedom at z = %d is %d, from the table', (degrees, z, expected) => {
    const table = gammaUnitMeanQuantileTable(Math.sqrt(2 / degrees));
    expect(Math.abs((degrees * quantileAtZ(table, z)) / expected - 1)).toBeLessThan(5e-7);
  });

  test('the table reproduces R: qgamma(.975, 3.7, rate 1.2) = 6.927481050958558', () => {
    const table = gammaUnitMeanQuantileTable(1 / Math.sqrt(3.7));
    expect(Math.abs((quantileAtZ(table, Z_975) * 3.7) / 1.2 / 6.927481050958558 - 1)).toBeLessThan(1e-9);
  });

  test('with a coefficient of variation of 1 the table is the exponential -ln Q(z), to z = 6 in the tail', () => {
    const table = gammaUnitMeanQuantileTable(1);
    // Upper tail chances Q(z) of the normal distribution: published tables (4, 5, 6 standard deviations).
    expect(quantileAtZ(table, 4)).toBeCloseTo(-Math.log(3.167124183311998e-5), 8);
    expect(quantileAtZ(table, 5)).toBeCloseTo(-Math.log(2.866515718791946e-7), 8);
    expect(quantileAtZ(table, 6)).toBeCloseTo(-Math.log(9.865876450377018e-10), 8);
    expect(quantileAtZ(table, 0)).toBeCloseTo(Math.LN2, 8);
  });

  // Stated error of the mean; stated relative error; smallest value that the relative error is stated for.
  test.each([
    [0.001, 1e-13, 1e-13, 0],
    [0.0049, 1e-13, 1e-13, 0],
    [0.005, 1e-13, 1e-13, 0],
    [0.1, 2e-10, 5e-8, 0],
    [0.25, 2e-10, 5e-8, 0],
    [0.5, 2e-10, 5e-8, 0],
    [1, 3e-9, 1e-6, 1e-3],
    [2, 2e-7, 5e-5, 1e-3],
    [3, 2e-7, 5e-5, 1e-3],
  ])(
    'at a coefficient of variation of %d the table is within %d of the mean and %d of the value',
    (cv, allowedError, allowedShare, smallest) => {
      const table = gammaUnitMeanQuantileTable(cv);
      for (let k = 0; k < 500; k += 1) {
        const z = -6.5 + (13 * (k + 0.5)) / 500;
        const truth = gammaAtScore(cv, z);
        const error = Math.abs(quantileAtZ(table, z) - truth);
        expect(error).toBeLessThan(allowedError);
        if (truth >= smallest) expect(error).toBeLessThan(allowedShare * truth);
      }
    },
  );

  test.each([0, 0.002, 0.1, 0.5, 1, 2, 3])(
    'at a coefficient of variation of %d the table has mean 1 and that coefficient of variation',
    (cv) => {
      const table = gammaUnitMeanQuantileTable(cv);
      const mean = normalMean((z) => quantileAtZ(table, z));
      const square = normalMean((z) => (quantileAtZ(table, z) - 1) ** 2);
      expect(Math.abs(mean - 1)).toBeLessThan(1e-8);
      // Cutting the scores at 6.5 costs a little spread.
      expect(Math.abs(Math.sqrt(square) - cv)).toBeLessThan(1e-7);
    },
  );

  test('no spread gives exactly 1 at every score', () => {
    const table = gammaUnitMeanQuantileTable(0);
    for (const z of [-8, -6.5, -1.234, 0, 0.77, 6.5, 8]) expect(quantileAtZ(table, z)).toBe(1);
  });

  test('a coefficient of variation outside [0, 3] is refused', () => {
    for (const bad of [-0.01, 3.01, NaN, Infinity]) {
      expect(() => gammaUnitMeanQuantileTable(bad)).toThrow(RangeError);
      expect(() => gammaUnitMeanQuantileTable(bad)).toThrow('coefficientOfVariation must lie in [0, 3]');
    }
  });

  test('every value is above 0 and the table never decreases, for any coefficient of variation', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 3, noNaN: true }), (cv) => {
        const table = gammaUnitMeanQuantileTable(cv);
        let previous = 0;
        for (let k = 0; k <= 1000; k += 1) {
          const value = quantileAtZ(table, -6.6 + (13.2 * k) / 1000);
          expect(value).toBeGreaterThan(0);
          expect(value).toBeGreaterThanOrEqual(previous * (1 - 1e-14));
          previous = value;
        }
      }),
      { seed: 20_260, numRuns: 25 },
    );
  });
});

describe('buildQuantileTable', () => {
  test('a lognormal table reproduces R: qlnorm(.95, 1, .4) = 5.248495430064144', () => {
    const table = buildQuantileTable((z) => Math.exp(1 + 0.4 * z));
    expect(Math.abs(quantileAtZ(table, Z_95) / 5.248495430064144 - 1)).toBeLessThan(1e-9);
  });

  test('a rising cubic is reproduced to rounding, at and between the cell ends', () => {
    const cubic = (z: number): number => 2 + z * (3 + z * z * 0.25);
    const table = buildQuantileTable(cubic);
    for (let k = 0; k <= 1300; k += 1) {
      const z = -6.5 + k / 100;
      expect(Math.abs(quantileAtZ(table, z) - cubic(z))).toBeLessThan(1e-12);
    }
  });

  test('scores beyond 6.5 take the value at the end, and NaN stays NaN', () => {
    const table = buildQuantileTable((z) => z);
    expect(quantileAtZ(table, 6.5)).toBe(6.5);
    expect(quantileAtZ(table, 7)).toBe(6.5);
    expect(quantileAtZ(table, Infinity)).toBe(6.5);
    expect(quantileAtZ(table, -6.5)).toBe(-6.5);
    expect(quantileAtZ(table, -Infinity)).toBe(-6.5);
    expect(quantileAtZ(table, NaN)).toBeNaN();
  });

  test('a non-decreasing function with kinks and flats gives a continuous table that never decreases', () => {
    const steps = fc.array(
      fc.tuple(fc.double({ min: 0, max: 0.3, noNaN: true }), fc.constantFrom(0, 0, 1, 50)),
      {
        minLength: 30,
        maxLength: 60,
      },
    );
    fc.assert(
      fc.property(steps, (pieces) => {
        const kinked = (z: number): number => {
          let [value, at] = [0, -7];
          for (const [width, slope] of pieces) {
            value += slope * Math.min(width, Math.max(z - at, 0));
            at += width;
          }
          return value;
        };
        const table = buildQuantileTable(kinked);
        let previous = -Infinity;
        for (let k = 0; k <= 2600; k += 1) {
          const value = quantileAtZ(table, -6.5 + k / 200);
          expect(value).toBeGreaterThanOrEqual(previous - 1e-10);
          previous = value;
        }
        for (let cell = 1; cell < 208; cell += 1) {
          const z = -6.5 + cell / 16;
          expect(Math.abs(quantileAtZ(table, z) - quantileAtZ(table, z - 1e-13))).toBeLessThan(1e-9);
        }
      }),
      { seed: 20_261, numRuns: 30 },
    );
  });

  test('a function that decreases or is not finite is refused', () => {
    expect(() => buildQuantileTable((z) => -z)).toThrow('quantile must not decrease');
    expect(() => buildQuantileTable((z) => (z > 2 ? Infinity : 1))).toThrow('must be finite');
    expect(() => buildQuantileTable(() => NaN)).toThrow(RangeError);
  });

  test('a table survives structured cloning, as when it is sent to a worker', () => {
    const table = gammaUnitMeanQuantileTable(0.7);
    const clone = structuredClone(table);
    expect(clone).toBeInstanceOf(Float64Array);
    expect(quantileAtZ(clone, 1.3)).toBe(quantileAtZ(table, 1.3));
  });
});
