import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  betaQuantile,
  binomialCdf,
  chiSquareQuantile,
  errorFunctionComplement,
  gammaQuantile,
  gammaQuantileUpper,
  logGamma,
  normalCdf,
  poissonCdf,
  regularizedBeta,
  regularizedGammaP,
  regularizedGammaQ,
} from '../../lib/numeric/special.js';

/**
 * Expected values: mpmath 1.3.0 at 40 to 60 digits (gammainc, betainc, loggamma, erfc, ncdf, exact binomial sums),
 * rounded to the nearest double. Those marked R were also computed in R 4.2.2.
 */
const RELATIVE = 1e-12;

function expectRelative(found: number, expected: number, relative = RELATIVE): void {
  expect(Math.abs(found - expected), `${found} against ${expected}`).toBeLessThanOrEqual(
    relative * Math.abs(expected),
  );
}

describe('gamma function', () => {
  test.each([
    [1e-10, 23.025850929882736],
    [0.001, 6.907178885383853], // R
    [0.5, 0.5723649429247001],
    [3, 0.6931471805599453],
    [15.9, 27.625493215168692],
    [16, 27.89927138384089],
    [170, 701.437263808737],
    [1e6, 12815504.569147613], // R
    [1e10, 220258509288.81058],
  ])('logGamma(%d) is within 1e-12 of its true value', (x, expected) => {
    expectRelative(logGamma(x), expected);
  });

  test('logGamma is zero at 1 and 2 within 1e-14', () => {
    expect(Math.abs(logGamma(1))).toBeLessThan(1e-14);
    expect(Math.abs(logGamma(2))).toBeLessThan(1e-14);
  });

  test.each([
    [0.5, 1e-8, 0.00011283791633342487],
    [0.01, 0.5, 0.9943732438060329],
    [3.7, 3, 0.41577519756924813], // R pgamma(2.5, 3.7, rate 1.2)
    [10, 1, 1.1142547833872067e-7],
    [100, 120, 0.9721362601094794], // R
    [1e5, 99000, 0.0007574199211747679],
  ])('the lower gamma tail P(%d, %d) is within 1e-12 of its true value', (shape, x, expected) => {
    expectRelative(regularizedGammaP(shape, x), expected);
  });

  test.each([
    [1000, 1100, 0.0010593232539299773], // R
    [0.5, 300, 1.674167984691788e-132],
    [1e5, 101500, 1.1736845137221692e-6],
    [10, 60, 2.85150775555202e-16],
    [2, 0.001, 0.9999995003332084],
  ])('the upper gamma tail Q(%d, %d) is within 1e-12 of its true value', (shape, x, expected) => {
    expectRelative(regularizedGammaQ(shape, x), expected);
  });

  test('the gamma tails reach their ends at 0 and at infinity', () => {
    expect(regularizedGammaP(2, 0)).toBe(0);
    expect(regularizedGammaQ(2, 0)).toBe(1);
    expect(regularizedGammaP(2, Infinity)).toBe(1);
    expect(regularizedGammaQ(2, Infinity)).toBe(0);
  });

  test('gamma quantiles agree with R and mpmath, in both tails and at a tiny shape', () => {
    expectRelative(gammaQuantile(0.975, 3.7, 1 / 1.2), 6.9274810509585585); // R
    expectRelative(gammaQuantile(1e-4, 0.05, 1), 5.8446320572865e-81); // R
    expectRelative(gammaQuantile(0.001, 1e5, 1), 99025.63189050092);
    expectRelative(gammaQuantileUpper(1e-12, 4, 1), 36.73300953308175);
    expect(gammaQuantile(0, 3, 1)).toBe(0);
    expect(gammaQuantile(1, 3, 1)).toBe(Infinity);
    expect(gammaQuantileUpper(1, 3, 1)).toBe(0);
    // (1e-4 Gamma(1.001))^1000 is far below the smallest double.
    expect(gammaQuantile(1e-4, 0.001, 1)).toBeLessThanOrEqual(Number.MIN_VALUE);
  });

  test('a chi-square quantile with 2 degrees of freedom is -2 ln(1 - p)', () => {
    for (const p of [1e-9, 0.05, 0.5, 0.95]) expectRelative(chiSquareQuantile(p, 2), -2 * Math.log1p(-p));
    // Any chi-square table, 9 degrees of freedom; also R qchisq.
    expectRelative(chiSquareQuantile(0.95, 9), 16.9189776, 1e-8);
    expectRelative(chiSquareQuantile(0.995, 99), 138.9868, 1e-6);
  });
});

describe('beta function', () => {
  test.each([
    [0.3, 2.5, 7.3, 0.6642381992386516], // R
    [1e-6, 0.5, 20.5, 0.005077866656468797],
    [0.999, 40, 2, 0.9992010191652443],
    [0.02, 3, 998, 0.9999996138490629],
    [0.5, 0.01, 0.02, 0.6667194610412722],
  ])('I_%d(%d, %d) is within 1e-12 of its true value', (x, a, b, expected) => {
    expectRelative(regularizedBeta(x, a, b), expected);
  });

  test('beta quantiles agree with R, mpmath and closed forms', () => {
    expectRelative(betaQuantile(0.05, 2.5, 7.3), 0.06893759381341642); // R
    expectRelative(betaQuantile(0.025, 0.5, 20.5), 2.4246478459242743e-5);
    expectRelative(betaQuantile(0.975, 1, 1e6), 3.688872650206489e-6); // 1 - 0.025^(1/1e6)
    expectRelative(betaQuantile(0.025, 1000, 1), 0.9963179161031344); // 0.025^(1/1000)
    expect(betaQuantile(0, 2, 3)).toBe(0);
    expect(betaQuantile(1, 2, 3)).toBe(1);
    expect(betaQuantile(0.5, 4, 4)).toBeCloseTo(0.5, 14);
  });

  test('binomial sums agree with sums of exact terms', () => {
    expectRelative(binomialCdf(10, 1_000_000, 1e-5), 0.5830397501940281);
    expectRelative(binomialCdf(900, 1000, 0.95), 8.410251084877303e-11);
    expectRelative(binomialCdf(49_500, 100_000, 0.5), 0.0007911799394257978);
    expectRelative(binomialCdf(1, 3, 0.25), 27 / 64 + 27 / 64);
    expect(binomialCdf(-1, 3, 0.25)).toBe(0);
    expect(binomialCdf(3, 3, 0.25)).toBe(1);
    expect(binomialCdf(0, 3, 0)).toBe(1);
    expect(binomialCdf(2, 3, 1)).toBe(0);
  });
});

describe('normal and Poisson distributions', () => {
  test.each([
    [-3, 1.9999779095030015],
    [-0.1, 1.1124629160182848],
    [0, 1],
    [0.5, 0.4795001221869535],
    [1, 0.15729920705028513],
    [2, 0.004677734981047266],
    [5, 1.537459794428035e-12],
    [10, 2.088487583762545e-45],
    [26, 5.663192408856143e-296],
  ])('erfc(%d) is within 1e-12 of its true value', (x, expected) => {
    expectRelative(errorFunctionComplement(x), expected);
  });

  test.each([
    [-37, 5.725571222524577e-300],
    [-8, 6.220960574271784e-16], // R
    [-1.96, 0.024997895148220435],
    [0.3, 0.6179114221889527],
    [3, 0.9986501019683699],
  ])('the normal chance below %d is within 1e-12 of its true value', (z, expected) => {
    expectRelative(normalCdf(z), expected);
  });

  test('Poisson sums agree with R and with the closed form at zero', () => {
    expectRelative(poissonCdf(8, 4), 0.9786365655120158); // R
    expectRelative(poissonCdf(0, 1e-3), 0.999000499833375);
    expectRelative(poissonCdf(8.9, 4), 0.9786365655120158);
    expect(poissonCdf(-1, 4)).toBe(0);
    expect(poissonCdf(0, 0)).toBe(1);
  });
});

describe('laws', () => {
  const settings = { seed: 20_240_611, numRuns: 300 };
  const shapes = fc.double({ min: 0.01, max: 5000, noNaN: true });
  const chances = fc.double({ min: 1e-12, max: 1 - 1e-12, noNaN: true });

  test('the two gamma tails add to 1', () => {
    fc.assert(
      fc.property(shapes, fc.double({ min: 0, max: 10_000, noNaN: true }), (shape, x) => {
        expect(regularizedGammaP(shape, x) + regularizedGammaQ(shape, x)).toBeCloseTo(1, 13);
      }),
      settings,
    );
  });

  test('the gamma quantile undoes the gamma tail', () => {
    fc.assert(
      fc.property(shapes, chances, (shape, p) => {
        const x = gammaQuantile(p, shape, 1);
        // Below the smallest normal double the quantile itself has lost its digits.
        if (x < 1e-300) return;
        // A relative error e of x moves the tail by the density times x times e, which sqrt(shape) e bounds.
        expectRelative(regularizedGammaP(shape, x), p, 1e-10);
      }),
      settings,
    );
  });

  test('the beta tail is symmetric and its quantile undoes it', () => {
    const sizes = fc.double({ min: 0.3, max: 3000, noNaN: true });
    fc.assert(
      fc.property(chances, sizes, sizes, (p, a, b) => {
        // From a multiple of 2^-20, 1 - share is exact, so the two tails are at the very same point.
        const share = (1 + Math.floor(p * 1048574)) / 1048576;
        expect(regularizedBeta(share, a, b) + regularizedBeta(1 - share, b, a)).toBeCloseTo(1, 12);
        const x = betaQuantile(p, a, b);
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x).toBeLessThanOrEqual(1);
        if (x < 0.5) expectRelative(regularizedBeta(x, a, b), p, 1e-9);
      }),
      settings,
    );
  });

  test('P(a + 1, x) = P(a, x) - x^a e^-x / Gamma(a + 1) (DLMF 8.8.5)', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 50, noNaN: true }),
        fc.double({ min: 0.1, max: 80, noNaN: true }),
        (a, x) => {
          const step = Math.exp(a * Math.log(x) - x - logGamma(a + 1));
          expect(regularizedGammaP(a + 1, x)).toBeCloseTo(regularizedGammaP(a, x) - step, 12);
        },
      ),
      settings,
    );
  });
});

test('an argument out of range is refused by name', () => {
  expect(() => logGamma(0)).toThrow(/^x must be a finite number above 0; found 0$/);
  expect(() => regularizedGammaP(-1, 1)).toThrow(/^shape must be above 0/);
  expect(() => regularizedGammaQ(1, -1)).toThrow(/^x must be 0 or more/);
  expect(() => regularizedGammaQ(2e12, 1)).toThrow(/^shape must be above 0 and at most 1e12/);
  expect(() => gammaQuantile(1.5, 1, 1)).toThrow(/^probability must lie in \[0, 1\]/);
  expect(() => gammaQuantile(0.5, 1, NaN)).toThrow(/^scale must be/);
  expect(() => gammaQuantileUpper(-0.1, 1, 1)).toThrow(/^upperProbability must/);
  expect(() => regularizedBeta(2, 1, 1)).toThrow(/^x must lie/);
  expect(() => regularizedBeta(0.5, 0, 1)).toThrow(/^a must/);
  expect(() => betaQuantile(0.5, 1, Infinity)).toThrow(/^b must/);
  expect(() => binomialCdf(NaN, 3, 0.5)).toThrow(/^count must/);
  expect(() => binomialCdf(1, 2.5, 0.5)).toThrow(/^trials must/);
  expect(() => binomialCdf(1, 3, 1.5)).toThrow(/^chance must/);
  expect(() => chiSquareQuantile(0.5, 0)).toThrow(/^degreesOfFreedom must/);
  expect(() => poissonCdf(Infinity, 1)).toThrow(/^count must/);
  expect(() => poissonCdf(1, -1)).toThrow(/^mean must/);
  expect(() => errorFunctionComplement(NaN)).toThrow(/^x must be a number/);
  expect(() => normalCdf(NaN)).toThrow(RangeError);
});
