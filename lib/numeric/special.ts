/** Special functions of statistics, hand-written and engine independent. */
import { regularizedGammaP, regularizedGammaQ, gammaQuantile, requirePositive } from './gamma.js';

export { betaQuantile, binomialCdf, regularizedBeta } from './beta.js';
export {
  gammaQuantile,
  gammaQuantileUpper,
  logGamma,
  regularizedGammaP,
  regularizedGammaQ,
} from './gamma.js';

/**
 * Complementary error function, erfc(x) = 2/sqrt(pi) times the integral of exp(-t^2) from x up.
 *
 * Any x but NaN; result in [0, 2], accurate in the far tail. Throws RangeError for NaN.
 * Source: DLMF 7.11.2 (erfc as an incomplete gamma function).
 */
export function errorFunctionComplement(x: number): number {
  if (Number.isNaN(x)) throw new RangeError('x must be a number; found NaN');
  return x < 0 ? 1 + regularizedGammaP(0.5, x * x) : regularizedGammaQ(0.5, x * x);
}

/** Chance that a standard normal variable is at most z; accurate in both tails. Throws RangeError for NaN. */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) throw new RangeError('z must be a number; found NaN');
  // Halving z^2 is exact, so the far tail loses no digits to a rounded 1/sqrt(2).
  const tail = 0.5 * regularizedGammaQ(0.5, (z * z) / 2);
  return z < 0 ? tail : 1 - tail;
}

/**
 * Quantile of the chi-square distribution.
 *
 * `probability` in [0, 1], `degreesOfFreedom` > 0 (need not be whole). Throws RangeError otherwise.
 */
export function chiSquareQuantile(probability: number, degreesOfFreedom: number): number {
  requirePositive('degreesOfFreedom', degreesOfFreedom);
  return gammaQuantile(probability, degreesOfFreedom / 2, 2);
}

/**
 * Chance that a Poisson count with this mean is at most `count`.
 *
 * `mean` >= 0; any finite `count`. Throws RangeError otherwise.
 * Source: DLMF 8.4.10 (the Poisson sum as an incomplete gamma function).
 */
export function poissonCdf(count: number, mean: number): number {
  if (!Number.isFinite(count)) throw new RangeError(`count must be a finite number; found ${count}`);
  if (!(mean >= 0 && mean < Infinity)) {
    throw new RangeError(`mean must be a finite number of 0 or more; found ${mean}`);
  }
  const whole = Math.floor(count);
  return whole < 0 ? 0 : regularizedGammaQ(whole + 1, mean);
}
