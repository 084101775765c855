/**
 * Standard laws of the logarithm of a life: life = exp(location + spread x Z). Z has the smallest-extreme-value law for
 * a Weibull life and the normal law for a lognormal one. Both have a log-concave density, so that the likelihood of
 * (location / spread, 1 / spread) is concave for any censoring (Burridge, J. R. Stat. Soc. B 43:41-45, 1981; from
 * memory): without left truncation there is no second maximum to fall into.
 */
import { standardNormalQuantile } from '../numeric/normal.js';
import { errorFunctionComplement } from '../numeric/special.js';

/** Law of a life. */
export type LifeLawName = 'weibull' | 'lognormal';

/** The standard law of Z and what a likelihood needs of it. */
export interface StandardLaw {
  logDensity(z: number): number;
  /** First and second derivative of the log density. */
  logDensitySlope(z: number): number;
  logDensityBend(z: number): number;
  /** ln P(Z > z). */
  logSurvival(z: number): number;
  /** z with P(Z <= z) = chance, chance in (0, 1). */
  quantile(chance: number): number;
}

const WEIBULL: StandardLaw = {
  logDensity: (z) => z - Math.exp(z),
  logDensitySlope: (z) => 1 - Math.exp(z),
  logDensityBend: (z) => -Math.exp(z),
  logSurvival: (z) => -Math.exp(z),
  quantile: (chance) => Math.log(-Math.log1p(-chance)),
};

const HALF_LOG_TWO_PI = 0.5 * Math.log(2 * Math.PI);
/** From here on the tail of the normal law is taken from its asymptotic series: what is left out is below 2e-12 of it. */
const FAR_TAIL = 30;

function normalLogSurvival(z: number): number {
  if (z < -FAR_TAIL) return 0;
  if (z < 0) return Math.log1p(-0.5 * errorFunctionComplement(-z * Math.SQRT1_2));
  if (z < FAR_TAIL) return Math.log(0.5 * errorFunctionComplement(z * Math.SQRT1_2));
  const per = 1 / (z * z);
  // Abramowitz and Stegun 26.2.12 (from memory; the tests compare it with the other branch).
  return (
    -0.5 * z * z - HALF_LOG_TWO_PI - Math.log(z) + Math.log1p(-per * (1 - per * (3 - per * (15 - per * 105))))
  );
}

const LOGNORMAL: StandardLaw = {
  logDensity: (z) => -0.5 * z * z - HALF_LOG_TWO_PI,
  logDensitySlope: (z) => -z,
  logDensityBend: () => -1,
  logSurvival: normalLogSurvival,
  quantile: standardNormalQuantile,
};

/** The standard law behind a law of lives. */
export function standardLaw(name: LifeLawName): StandardLaw {
  return name === 'weibull' ? WEIBULL : LOGNORMAL;
}

/** ln(1 - e^x) for x < 0, accurate near both ends. */
export function logOneMinusExp(x: number): number {
  return x > -Math.LN2 ? Math.log(-Math.expm1(x)) : Math.log1p(-Math.exp(x));
}
