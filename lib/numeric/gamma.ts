/**
 * Gamma function and incomplete gamma function, with inverses.
 *
 * Everything is built on the exp and log of this library, so a result has the same bits on every engine.
 */
import { exp, log } from './elementary.js';
import { standardNormalQuantile } from './normal.js';

const LOG_TWO_PI = 1.8378770664093453; // ln(2 pi), DLMF 5.11
export const TWO_PI = 6.283185307179586;

/** A continued fraction or series stops when a step changes the value by less than this share. */
export const CONVERGED = 3e-15;

/** Throws RangeError unless `value` is a finite number above zero. */
export function requirePositive(name: string, value: number): void {
  if (!(value > 0 && value < Infinity)) {
    throw new RangeError(`${name} must be a finite number above 0; found ${value}`);
  }
}

/** Throws RangeError unless `value` is a shape the series can handle: time grows as its square root. */
export function requireShape(name: string, value: number): void {
  if (!(value > 0 && value <= 1e12)) {
    throw new RangeError(`${name} must be above 0 and at most 1e12; found ${value}`);
  }
}

/** Throws RangeError unless `value` lies in [0, 1]. */
export function requireChance(name: string, value: number): void {
  if (!(value >= 0 && value <= 1)) throw new RangeError(`${name} must lie in [0, 1]; found ${value}`);
}

/**
 * What Stirling's formula leaves out: ln Gamma(x) - [(x - 1/2) ln x - x + ln(2 pi)/2], for x > 0.
 *
 * Asymptotic series (DLMF 5.11.1, Bernoulli numbers) from 16 up, where its error is below 2e-16; smaller x
 * climb to 16 by Gamma(x + 1) = x Gamma(x).
 */
export function stirlingCorrection(x: number): number {
  let climbed = 0;
  let at = x;
  while (at < 16) {
    climbed += (at + 0.5) * (log(at + 1) - log(at)) - 1;
    at += 1;
  }
  const w = 1 / (at * at);
  const series = (1 / 12 - w * (1 / 360 - w * (1 / 1260 - w * (1 / 1680 - w * (1 / 1188))))) / at;
  return series + climbed;
}

/**
 * a ln(a / x) + x - a without cancellation when the two are close (>= 0, and 0 when they are equal).
 *
 * Source: C. Loader, "Fast and Accurate Computation of Binomial Probabilities" (2000), the deviance term;
 * from memory.
 */
export function devianceTerm(a: number, x: number): number {
  const difference = a - x;
  if (Math.abs(difference) >= 0.1 * (a + x)) return a * (log(a) - log(x)) + x - a;
  const v = difference / (a + x);
  const square = v * v;
  let sum = difference * v;
  let power = 2 * a * v;
  for (let odd = 3; ; odd += 2) {
    power *= square;
    const next = sum + power / odd;
    if (next === sum) return sum;
    sum = next;
  }
}

/**
 * Natural logarithm of the gamma function for x > 0.
 *
 * Absolute error below 1e-14 up to x = 10; relative error below 1e-14 above that.
 * Throws RangeError when x is not a finite number above 0. Source: Stirling's series, DLMF 5.11.1.
 */
export function logGamma(x: number): number {
  requirePositive('x', x);
  return (x - 0.5) * log(x) - x + 0.5 * LOG_TWO_PI + stirlingCorrection(x);
}

/** x^shape e^-x / Gamma(shape): the gamma density times x. */
function gammaDensityTimesX(shape: number, x: number): number {
  return Math.sqrt(shape / TWO_PI) * exp(-stirlingCorrection(shape) - devianceTerm(shape, x));
}

/** Lower tail by the power series DLMF 8.11.4; used below shape + 1. */
function lowerBySeries(shape: number, x: number, densityTimesX: number): number {
  let term = 1;
  let sum = 1;
  for (let n = 1; term > sum * 1e-17; n += 1) {
    term *= x / (shape + n);
    sum += term;
  }
  return (densityTimesX / shape) * sum;
}

/** Upper tail by the continued fraction DLMF 8.9.2 (even part), evaluated by Lentz's method. */
function upperByContinuedFraction(shape: number, x: number, densityTimesX: number): number {
  let b = x + 1 - shape;
  let c = Infinity;
  let d = 1 / b;
  let fraction = d;
  for (let n = 1; ; n += 1) {
    const a = n * (shape - n);
    b += 2;
    d = 1 / (b + a * d);
    c = b + a / c;
    const change = c * d;
    fraction *= change;
    if (Math.abs(change - 1) < CONVERGED) return densityTimesX * fraction;
  }
}

/** Both tails of the gamma distribution with unit scale, and its density times x. */
interface GammaTails {
  readonly lower: number;
  readonly upper: number;
  readonly densityTimesX: number;
}

function gammaTails(shape: number, x: number): GammaTails {
  if (x === 0) return { lower: 0, upper: 1, densityTimesX: 0 };
  if (x === Infinity) return { lower: 1, upper: 0, densityTimesX: 0 };
  const densityTimesX = gammaDensityTimesX(shape, x);
  if (x < shape + 1) {
    const lower = Math.min(lowerBySeries(shape, x, densityTimesX), 1);
    return { lower, upper: 1 - lower, densityTimesX };
  }
  const upper = Math.min(upperByContinuedFraction(shape, x, densityTimesX), 1);
  return { lower: 1 - upper, upper, densityTimesX };
}

function requireGammaArguments(shape: number, x: number): void {
  requireShape('shape', shape);
  if (!(x >= 0)) throw new RangeError(`x must be 0 or more; found ${x}`);
}

/**
 * Regularised lower incomplete gamma function P(shape, x): the chance that a gamma variable with this shape
 * and unit scale is at most x.
 *
 * Shape in (0, 1e12], x >= 0 (Infinity allowed); result in [0, 1]. Throws RangeError otherwise.
 * Source: DLMF chapter 8 (series and continued fraction), with Loader's form of the leading factor.
 */
export function regularizedGammaP(shape: number, x: number): number {
  requireGammaArguments(shape, x);
  return gammaTails(shape, x).lower;
}

/** Regularised upper incomplete gamma function Q(shape, x) = 1 - P(shape, x), accurate in the far tail. */
export function regularizedGammaQ(shape: number, x: number): number {
  requireGammaArguments(shape, x);
  return gammaTails(shape, x).upper;
}

/** Value and slope of a rising function at one point. */
export interface RisingFunctionValue {
  readonly value: number;
  readonly slope: number;
}

/**
 * Zero of a rising function by Newton steps kept inside a bracket; a step that leaves the bracket is replaced
 * by halving it, and while one side is still open, by doubling strides.
 */
export function bracketedNewton(start: number, evaluate: (at: number) => RisingFunctionValue): number {
  let lower = -Infinity;
  let upper = Infinity;
  let at = start;
  let stride = 1;
  for (;;) {
    const { value, slope } = evaluate(at);
    if (value === 0) return at;
    if (value < 0) lower = at;
    else upper = at;
    let next = at - value / slope;
    const closed = lower > -Infinity && upper < Infinity;
    const usable = next > lower && next < upper && (closed || Math.abs(next - at) <= 4 * stride);
    if (!usable) {
      next = closed ? lower + (upper - lower) / 2 : at - Math.sign(value) * stride;
      stride *= 2;
    }
    const resolution = Number.EPSILON * Math.max(1, Math.abs(at));
    if (Math.abs(next - at) <= resolution || upper - lower <= resolution) return next;
    at = next;
  }
}

/** Logarithm of the x at which both tails agree with the wanted chances (which add to 1). */
function logGammaVariable(shape: number, lowerChance: number, upperChance: number): number {
  // First guess: Wilson and Hilferty's cube; the leading term of the series where the cube is of no use.
  const z =
    lowerChance < upperChance ? standardNormalQuantile(lowerChance) : -standardNormalQuantile(upperChance);
  const root = 1 - 1 / (9 * shape) + z / (3 * Math.sqrt(shape));
  const start =
    shape >= 0.5 && root > 0.1
      ? log(shape) + 3 * log(root)
      : (log(lowerChance) + logGamma(shape + 1)) / shape;
  return bracketedNewton(start, (logX) => {
    const tails = gammaTails(shape, exp(logX));
    if (lowerChance < upperChance) {
      if (tails.lower === 0) return { value: -Infinity, slope: 0 };
      return { value: log(tails.lower / lowerChance), slope: tails.densityTimesX / tails.lower };
    }
    if (tails.upper === 0) return { value: Infinity, slope: 0 };
    return { value: log(upperChance / tails.upper), slope: tails.densityTimesX / tails.upper };
  });
}

function gammaVariable(shape: number, scale: number, lowerChance: number, upperChance: number): number {
  requireShape('shape', shape);
  requirePositive('scale', scale);
  if (lowerChance === 0) return 0;
  if (upperChance === 0) return Infinity;
  return exp(logGammaVariable(shape, lowerChance, upperChance)) * scale;
}

/**
 * Quantile of the gamma distribution: the x with P(X <= x) = probability.
 *
 * `probability` in [0, 1] (0 gives 0, 1 gives Infinity), `shape` in (0, 1e12], `scale` > 0 in the unit of the result.
 * Throws RangeError naming the argument that is out of range. For a chance close to 1 use
 * `gammaQuantileUpper`, which takes the small tail itself.
 */
export function gammaQuantile(probability: number, shape: number, scale: number): number {
  requireChance('probability', probability);
  return gammaVariable(shape, scale, probability, 1 - probability);
}

/** Quantile of the gamma distribution from its upper tail: the x with P(X > x) = upperProbability. */
export function gammaQuantileUpper(upperProbability: number, shape: number, scale: number): number {
  requireChance('upperProbability', upperProbability);
  return gammaVariable(shape, scale, 1 - upperProbability, upperProbability);
}
