import { exp } from '../numeric/elementary.js';

const ROOT_TWO_PI = 2.5066282746310002;
/** Beyond this a continued fraction takes over, and further out there is nothing left. */
const FAR = 7.07106781186547;
const NOTHING_BEYOND = 37;

/** Density of the standard normal law. */
export function fastNormalDensity(z: number): number {
  return exp(-0.5 * z * z) / ROOT_TWO_PI;
}

/**
 * Chance that a standard normal number is at most z: ten times as fast as the incomplete gamma function, for loops that
 * are run a million times. Off by at most 1e-8 of the smaller tail.
 *
 * @see J. F. Hart et al., Computer Approximations (1968), algorithm 5666, as in G. West, "Better approximations to
 *   cumulative normal functions" (2005); coefficients from memory, checked in the tests against the gamma function.
 */
export function fastNormalCdf(z: number): number {
  const x = Math.abs(z);
  if (x > NOTHING_BEYOND) return z > 0 ? 1 : 0;
  const height = exp(-0.5 * x * x);
  let tail: number;
  if (x < FAR) {
    const above =
      (((((0.0352624965998911 * x + 0.700383064443688) * x + 6.37396220353165) * x + 33.912866078383) * x +
        112.079291497871) *
        x +
        221.213596169931) *
        x +
      220.206867912376;
    const below =
      ((((((0.0883883476483184 * x + 1.75566716318264) * x + 16.064177579207) * x + 86.7807322029461) * x +
        296.564248779674) *
        x +
        637.333633378831) *
        x +
        793.826512519948) *
        x +
      440.413735824752;
    tail = (height * above) / below;
  } else {
    tail = height / (x + 1 / (x + 2 / (x + 3 / (x + 4 / (x + 0.65))))) / ROOT_TWO_PI;
  }
  return z > 0 ? 1 - tail : tail;
}
