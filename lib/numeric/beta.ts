/** Incomplete beta function, its inverse, and the binomial distribution that follows from it. */
import { exp, log } from './elementary.js';
import {
  CONVERGED,
  TWO_PI,
  bracketedNewton,
  devianceTerm,
  requireChance,
  requireShape,
  stirlingCorrection,
} from './gamma.js';

/**
 * x^a y^b / B(a, b) with y = 1 - x passed in, so that neither end loses digits.
 *
 * Source: C. Loader, "Fast and Accurate Computation of Binomial Probabilities" (2000), saddle-point form;
 * from memory.
 */
function betaKernel(x: number, y: number, a: number, b: number): number {
  const n = a + b;
  const exponent =
    stirlingCorrection(n) -
    stirlingCorrection(a) -
    stirlingCorrection(b) -
    devianceTerm(a, n * x) -
    devianceTerm(b, n * y);
  return Math.sqrt(((a / n) * b) / TWO_PI) * exp(exponent);
}

/** The continued fraction DLMF 8.17.22 by Lentz's method; quick for x below (a + 1) / (a + b + 2). */
function betaContinuedFraction(x: number, y: number, a: number, b: number): number {
  let c = 1;
  // First denominator 1 - (a + b) x / (a + 1), from whichever of x and y = 1 - x is small and so exact.
  let d = (a + 1) / (x <= 0.5 ? a + 1 - (a + b) * x : 1 - b + (a + b) * y);
  let fraction = d;
  for (let m = 1; ; m += 1) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    fraction *= c * d;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    const change = c * d;
    fraction *= change;
    if (Math.abs(change - 1) < CONVERGED) return fraction;
  }
}

/** I_x(a, b) for x and y = 1 - x both inside (0, 1). */
function lowerTail(x: number, y: number, a: number, b: number, kernel: number): number {
  if (x <= (a + 1) / (a + b + 2)) return Math.min((kernel * betaContinuedFraction(x, y, a, b)) / a, 1);
  return Math.max(1 - (kernel * betaContinuedFraction(y, x, b, a)) / b, 0);
}

/**
 * Regularised incomplete beta function I_x(a, b): the chance that a beta(a, b) variable is at most x.
 *
 * x in [0, 1], a and b in (0, 1e12]; result in [0, 1]. Throws RangeError naming the argument otherwise.
 * Source: DLMF 8.17.22 (continued fraction) and 8.17.4 (symmetry).
 */
export function regularizedBeta(x: number, a: number, b: number): number {
  requireChance('x', x);
  requireShape('a', a);
  requireShape('b', b);
  if (x === 0 || x === 1) return x;
  return lowerTail(x, 1 - x, a, b, betaKernel(x, 1 - x, a, b));
}

/** The x <= 1/2 with I_x(a, b) = probability, searched in ln x so that a tiny answer keeps its digits. */
function lowerHalfQuantile(probability: number, a: number, b: number): number {
  const logX = bracketedNewton(Math.min(log(a / (a + b)), log(0.5)), (at) => {
    const x = Math.min(exp(at), 0.5);
    const y = 1 - x;
    const kernel = betaKernel(x, y, a, b);
    const tail = lowerTail(x, y, a, b, kernel);
    if (tail === 0) return { value: -Infinity, slope: 0 };
    return { value: log(tail / probability), slope: kernel / y / tail };
  });
  return Math.min(exp(logX), 0.5);
}

/**
 * Quantile of the beta distribution: the x with I_x(a, b) = probability.
 *
 * `probability` in [0, 1], a and b in (0, 1e12]; result in [0, 1]. Throws RangeError naming the argument otherwise.
 * Newton steps inside a bracket on the half of [0, 1] that holds the answer.
 */
export function betaQuantile(probability: number, a: number, b: number): number {
  requireChance('probability', probability);
  requireShape('a', a);
  requireShape('b', b);
  if (probability === 0 || probability === 1) return probability;
  if (probability <= regularizedBeta(0.5, a, b)) return lowerHalfQuantile(probability, a, b);
  return 1 - lowerHalfQuantile(1 - probability, b, a);
}

/**
 * Chance that a binomial count is at most `count` in `trials` trials with `chance` each.
 *
 * `trials` a whole number >= 0; any finite `count`. Throws RangeError otherwise.
 * Source: DLMF 8.17.5 (the binomial sum as an incomplete beta function).
 */
export function binomialCdf(count: number, trials: number, chance: number): number {
  if (!Number.isFinite(count)) throw new RangeError(`count must be a finite number; found ${count}`);
  if (!(Number.isInteger(trials) && trials >= 0)) {
    throw new RangeError(`trials must be a whole number of 0 or more; found ${trials}`);
  }
  requireChance('chance', chance);
  const whole = Math.floor(count);
  if (whole < 0) return 0;
  if (whole >= trials) return 1;
  if (chance === 0) return 1;
  if (chance === 1) return 0;
  const a = trials - whole;
  const b = whole + 1;
  return lowerTail(1 - chance, chance, a, b, betaKernel(1 - chance, chance, a, b));
}
