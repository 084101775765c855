/** What a fitted law says of lives: shares, quantiles, and the life left at an age, with profile-likelihood intervals. */
import type { OpenInterval } from './kaplan-meier.js';
import type { LifeFit } from './life-fit.js';
import { standardLaw } from './life-laws.js';
import { LifeLikelihood } from './life-likelihood.js';
import { bestOnCurve, bestWithQuantile, profileInterval } from './life-profile.js';
import { signChange } from './maximize.js';

/** An estimate whose bounds are null where the data set none. */
export interface FitForecast extends OpenInterval {
  readonly estimate: number;
}

interface Fitted {
  readonly likelihood: LifeLikelihood;
  readonly rate: number;
  readonly offset: number;
}

/** The likelihood of a fit with the place of its top. */
function fitted(fit: LifeFit): Fitted {
  if (fit.parameters === null) {
    throw new RangeError(`the fit identifies no law: ${fit.verdict.reasons.join('; ')}`);
  }
  const likelihood = new LifeLikelihood(fit.data, standardLaw(fit.law));
  const { scale, shape } = fit.parameters;
  const rate = fit.law === 'weibull' ? shape.estimate : 1 / shape.estimate;
  return { likelihood, rate, offset: rate * Math.log(scale.estimate / likelihood.unit) };
}

function requireChance(name: string, value: number): void {
  if (!(value > 0 && value < 1)) throw new RangeError(`${name} must lie between 0 and 1; found ${value}`);
}

function requireTime(name: string, value: number, least: number): void {
  if (!(value >= least && value < Infinity)) {
    throw new RangeError(
      `${name} must be a finite number ${least === 0 ? 'of 0 or more' : 'above 0'}; found ${value}`,
    );
  }
}

/**
 * Life by which a share of lives has ended.
 *
 * @param fit a fit with parameters.
 * @param probabilityEnded share, in (0, 1).
 * @returns life in the unit of the fit, with its interval.
 * Throws RangeError for a share outside (0, 1) and for a fit that identifies no law.
 * @example
 * import { fitLife, fittedQuantile } from 'gravelbar';
 * const lives = [3, 5, 6, 8, 9].map((at) => ({ from: at, to: at }));
 * fittedQuantile(fitLife(lives, { law: 'lognormal' }), 0.5).estimate.toFixed(3); // => '5.785'
 */
export function fittedQuantile(fit: LifeFit, probabilityEnded: number): FitForecast {
  requireChance('probabilityEnded', probabilityEnded);
  const { likelihood, rate, offset } = fitted(fit);
  const z = likelihood.law.quantile(probabilityEnded);
  const at = (offset + z) / rate;
  const bounds = profileInterval(at, 1 / (rate * Math.sqrt(fit.ends)), fit.level, fit.logLikelihood, (held) =>
    bestWithQuantile(likelihood, rate, held, z),
  );
  const time = (log: number): number => likelihood.unit * Math.exp(log);
  return {
    estimate: time(at),
    lower: bounds.lower === null ? null : time(bounds.lower),
    upper: bounds.upper === null ? null : time(bounds.upper),
  };
}

/**
 * Chance that a life is longer than a time, or than a time more given that it reached an age.
 *
 * @param fit a fit with parameters.
 * @param more time, or further time, > 0, in the unit of the fit.
 * @param age use already had, >= 0; default 0: a new tire.
 * @returns chance with its interval; a bound of 0 or 1 where the data set none.
 * Throws RangeError for times out of range and for a fit that identifies no law.
 */
export function fittedSurvival(fit: LifeFit, more: number, age = 0): FitForecast {
  requireTime('more', more, Number.MIN_VALUE);
  requireTime('age', age, 0);
  const { likelihood, rate, offset } = fitted(fit);
  const { unit } = likelihood;
  const ages = { from: Math.log(age / unit), to: Math.log((age + more) / unit) };
  const estimate = conditionalLogSurvival(likelihood, ages, offset, rate);
  // On the scale ln(-ln S), which has no ends.
  const bounds = profileInterval(
    Math.log(-estimate),
    1 / Math.sqrt(fit.ends),
    fit.level,
    fit.logLikelihood,
    (held) =>
      bestOnCurve(likelihood, rate, (each) => offsetFor(likelihood, ages, -Math.exp(held), each, offset)),
  );
  const chance = (held: number): number => Math.exp(-Math.exp(held));
  return {
    estimate: Math.exp(estimate),
    lower: bounds.upper === null ? 0 : chance(bounds.upper),
    upper: bounds.lower === null ? 1 : chance(bounds.lower),
  };
}

/**
 * Further life of one that has reached an age: the time within which a share of such lives ends.
 *
 * @param fit a fit with parameters.
 * @param age use already had, >= 0, in the unit of the fit.
 * @param probabilityEnded share of the lives that reached that age, in (0, 1).
 * @returns further life with its interval.
 * Throws RangeError for arguments out of range, an age that no life of the law would reach, and a fit that identifies
 * no law.
 */
export function fittedRemainingLife(fit: LifeFit, age: number, probabilityEnded: number): FitForecast {
  requireTime('age', age, 0);
  requireChance('probabilityEnded', probabilityEnded);
  const { likelihood, rate, offset } = fitted(fit);
  const { unit, law } = likelihood;
  const from = Math.log(age / unit);
  const wanted = Math.log1p(-probabilityEnded);
  const already = age === 0 ? 0 : law.logSurvival(rate * from - offset);
  if (!(already > -LEAST_LOG_SURVIVAL)) {
    throw new RangeError(`age ${age} is one that no life of the fitted law would reach`);
  }
  const z = quantileOfLogSurvival(law.logSurvival, already + wanted);
  const estimate = unit * Math.exp((z + offset) / rate) - age;
  // Where the law is so steep that the difference drowns in rounding, there is nothing left to tell.
  const remaining = Math.max(estimate, Number.MIN_VALUE);
  const bounds = profileInterval(
    Math.log(remaining / unit),
    1 / (rate * Math.sqrt(fit.ends)),
    fit.level,
    fit.logLikelihood,
    (held) => {
      const ages = { from, to: Math.log(age / unit + Math.exp(held)) };
      return bestOnCurve(likelihood, rate, (each) => offsetFor(likelihood, ages, wanted, each, offset));
    },
  );
  const time = (log: number): number => unit * Math.exp(log);
  return {
    estimate: remaining,
    lower: bounds.lower === null ? null : time(bounds.lower),
    upper: bounds.upper === null ? null : time(bounds.upper),
  };
}

/** -ln S of the oldest life that is still spoken of: e^-500. */
const LEAST_LOG_SURVIVAL = 500;

interface Ages {
  /** Logs of scaled times; -Infinity for a new tire. */
  readonly from: number;
  readonly to: number;
}

function conditionalLogSurvival(
  { law }: LifeLikelihood,
  { from, to }: Ages,
  offset: number,
  rate: number,
): number {
  const before = from === -Infinity ? 0 : law.logSurvival(rate * from - offset);
  return law.logSurvival(rate * to - offset) - before;
}

/** The offset at which the conditional log survival between two ages is as wanted; it rises with the offset. */
function offsetFor(
  likelihood: LifeLikelihood,
  ages: Ages,
  wanted: number,
  rate: number,
  start: number,
): number {
  const f = (offset: number): number => conditionalLogSurvival(likelihood, ages, offset, rate) - wanted;
  const rising = f(start) < 0;
  for (let step = 1, near = start; step < 1e7; step *= 2) {
    const far = start + (rising ? step : -step);
    const value = f(far);
    if (Number.isFinite(value) && value < 0 !== rising) return signChange(near, far, f);
    near = far;
  }
  return NaN;
}

/** z at which the log survival of a standard law has a value below 0. */
function quantileOfLogSurvival(logSurvival: (z: number) => number, value: number): number {
  let low = -40;
  while (logSurvival(low) < value) low *= 2;
  let high = 1;
  while (logSurvival(high) > value) high *= 2;
  return signChange(low, high, (z) => logSurvival(z) - value);
}
