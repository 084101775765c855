/**
 * Standard laws of the logarithm of a life: life = exp(location + spread x Z). Z has the smallest-extreme-value law for
 * a Weibull life and the normal law for a lognormal one. Both have a log-concave density, so that the likelihood of
 * (location / spread, 1 / spread) is concave for any censoring (Burridge, J. R. Stat. Soc. B 43:41-45, 1981; from
 * memory): without left truncation there is no second maximum to fall into.
 */
import { standardNormalQuantile } from '../numeric/normal.js';
import { normalCdf } from '../numeric/special.js';

/** Law of a life. */
export type LifeLawName = 'weibull' | 'lognormal';

/** The standard law of Z and what a likelihood needs of it. */
export interface StandardLaw {
  readonly logDensity: (z: number) => number;
  /** First and second derivative of the log density. */
  readonly logDensitySlope: (z: number) => number;
  readonly logDensityBend: (z: number) => number;
  /** ln P(Z > z). */
  readonly logSurvival: (z: number) => number;
  /** z with P(Z <= z) = chance, chance in (0, 1). */
  readonly quantile: (chance: number) => number;
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

/** Places from which the tail is continued: one every sixteenth from LEAST_PLACE to FAR_TAIL. */
const PLACES_PER_UNIT = 16;
const LEAST_PLACE = -12;
/** Terms of the series from each place: those left out are below (12 / 32)^14 / 14! of it, 1e-17. */
const TERMS = 13;
let tailSeries: Float64Array | null = null;

/** ln P(Z > z) by the incomplete gamma function: right to the last digits, but slow. */
function slowNormalLogSurvival(z: number): number {
  return z < 0 ? Math.log1p(-normalCdf(z)) : Math.log(normalCdf(-z));
}

/**
 * Taylor series of ln P(Z > z) about each place. Its slope is minus the hazard h, and h' = h^2 - z h gives one
 * coefficient after the other.
 */
function makeTailSeries(): Float64Array {
  const places = (FAR_TAIL - LEAST_PLACE) * PLACES_PER_UNIT + 1;
  const series = new Float64Array(places * (TERMS + 1));
  const hazard = new Float64Array(TERMS);
  for (let place = 0; place < places; place++) {
    const z = LEAST_PLACE + place / PLACES_PER_UNIT;
    const logSurvival = slowNormalLogSurvival(z);
    hazard[0] = Math.exp(-0.5 * z * z - HALF_LOG_TWO_PI - logSurvival);
    for (let k = 0; k + 1 < TERMS; k++) {
      let square = 0;
      for (let i = 0; i <= k; i++) square += hazard[i]! * hazard[k - i]!;
      hazard[k + 1] = (square - z * hazard[k]! - (k > 0 ? hazard[k - 1]! : 0)) / (k + 1);
    }
    const first = place * (TERMS + 1);
    series[first] = logSurvival;
    for (let k = 0; k < TERMS; k++) series[first + k + 1] = -hazard[k]! / (k + 1);
  }
  return series;
}

function normalLogSurvival(z: number): number {
  if (z >= FAR_TAIL) {
    const per = 1 / (z * z);
    // Abramowitz and Stegun 26.2.12 (from memory; the tests compare it with the other branch).
    const rest = -per * (1 - per * (3 - per * (15 - per * 105)));
    return -0.5 * z * z - HALF_LOG_TWO_PI - Math.log(z) + Math.log1p(rest);
  }
  if (!(z > LEAST_PLACE)) return z > -FAR_TAIL ? slowNormalLogSurvival(z) : 0;
  const series = (tailSeries ??= makeTailSeries());
  const place = Math.round((z - LEAST_PLACE) * PLACES_PER_UNIT);
  const step = z - LEAST_PLACE - place / PLACES_PER_UNIT;
  const first = place * (TERMS + 1);
  let sum = series[first + TERMS]!;
  for (let k = TERMS - 1; k >= 0; k--) sum = sum * step + series[first + k]!;
  return sum;
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
