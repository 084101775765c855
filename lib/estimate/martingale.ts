/**
 * Chances and rates of rare events from the hazard each trial accumulated, beside the events it counted.
 *
 * Along every trial the count of events minus the hazard accumulated up to and including them has mean zero (it
 * is a martingale: the hazard is the count's compensator). So counted - c (counted - hazard) has the wanted mean
 * for any c: c = 0 is plain counting, c = 1 is the accumulated hazard alone, and the best c in between is that of
 * a control variate. Where events are rare, that is worth orders of magnitude more trials.
 *
 * Sources, all from memory: compensators, Andersen, Borgan, Gill and Keiding, Statistical Models Based on Counting
 * Processes (1993), section II.4; conditional Monte Carlo and control variates, Ross, Simulation.
 */
import { exp, log } from '../numeric/elementary.js';
import { DEFAULT_LEVEL, normalMultiplier, requireLevel, type IntervalEstimate } from './interval.js';
import { compensatedSum, mean, sampleCovariance, sampleVariance } from './moments.js';
import { garwoodInterval } from './poisson-rate.js';
import { clopperPearsonInterval, wilsonInterval } from './proportion.js';

/** The plain count beside the estimate: events seen, and the interval that follows from them alone. */
export interface CountedEvents extends IntervalEstimate {
  readonly events: number;
  readonly trials: number;
  /** What the events were counted over; equals `trials` for a chance. */
  readonly exposure: number;
}

/** A chance (share of trials) or a rate (events per unit of exposure) with its Monte Carlo error. */
export interface RiskEstimate extends IntervalEstimate {
  readonly standardError: number;
  readonly counted: CountedEvents;
  /** Weight of the accumulated hazard, 0...1; the count has the rest. */
  readonly controlCoefficient: number;
}

/** Settings of a risk estimate. */
export interface RiskOptions {
  /** Two-sided level of the intervals, between 0 and 1; default 0.95. */
  readonly level?: number;
}

/**
 * Events the process's own moments count for, beside the events seen, in the control coefficient. With no or few
 * events the sample moments say nothing about them (with none, they would set the coefficient and so the
 * estimate to 0); with hundreds, these weigh nothing.
 */
const PRIOR_EVENTS = 10;

/** Checks the columns and returns the number of events counted. */
function requireColumns(counted: ArrayLike<number>, hazard: Float64Array, mostPerTrial: number): number {
  if (counted.length < 2)
    throw new RangeError(`counted must hold at least 2 trials; found ${counted.length}`);
  if (hazard.length !== counted.length) {
    throw new RangeError(
      `counted and hazard must be equally long; found ${counted.length} and ${hazard.length}`,
    );
  }
  let events = 0;
  for (let i = 0; i < counted.length; i += 1) {
    const count = counted[i]!;
    if (!(Number.isInteger(count) && count >= 0 && count <= mostPerTrial)) {
      throw new RangeError(`counted[${i}] must be a whole number from 0 to ${mostPerTrial}; found ${count}`);
    }
    const accumulated = hazard[i]!;
    if (!(accumulated >= 0 && accumulated < Infinity)) {
      throw new RangeError(`hazard[${i}] must be a finite number of 0 or more; found ${accumulated}`);
    }
    if (count > 0 && accumulated === 0) {
      throw new RangeError(`hazard[${i}] must be above 0, because trial ${i} counted an event`);
    }
    events += count;
  }
  return events;
}

/** Best weight of the accumulated hazard, and the variance per trial of what is left. */
interface Control {
  readonly coefficient: number;
  readonly residualVariance: number;
}

/**
 * Control coefficient 1 + Cov(excess, counted - hazard) / Var(counted - hazard), kept in [0, 1].
 *
 * `excess` is hazard - ratio x exposure. `priorCovariance` and `meanHazard` stand in for the two moments with the
 * weight of PRIOR_EVENTS events: the variance of a martingale with jumps of 1 is its mean hazard.
 */
function control(
  counted: ArrayLike<number>,
  hazard: Float64Array,
  excess: Float64Array,
  events: number,
  priorCovariance: number,
): Control {
  const trials = counted.length;
  const surprise = new Float64Array(trials);
  for (let i = 0; i < trials; i += 1) surprise[i] = counted[i]! - hazard[i]!;
  const weight = events / (events + PRIOR_EVENTS);
  const variance = weight * sampleVariance(surprise) + (1 - weight) * mean(hazard);
  const covariance = weight * sampleCovariance(excess, surprise) + (1 - weight) * priorCovariance;
  const coefficient = variance > 0 ? Math.min(Math.max(1 + covariance / variance, 0), 1) : 1;
  const residual = new Float64Array(trials);
  for (let i = 0; i < trials; i += 1) residual[i] = excess[i]! + (1 - coefficient) * surprise[i]!;
  return { coefficient, residualVariance: sampleVariance(residual) };
}

/**
 * Smallest variance per trial the estimate of a chance can have, reached when all trials face the same hazard H:
 * p (1 - p) - (H exp(-H))^2 / p with p = 1 - exp(-H); p^3 / 12 to first order. It keeps a run in which nothing
 * happened, and every trial accumulated the same hazard, from claiming no error at all.
 */
function leastVariance(chance: number): number {
  if (chance < 1e-3) return chance ** 3 / 12;
  const rest = 1 - chance;
  const shared = rest > 0 ? rest * log(rest) : 0;
  return Math.max(chance * rest - (shared * shared) / chance, 0);
}

/** Interval for a chance on the logit scale. */
function logitInterval(
  chance: number,
  standardError: number,
  level: number,
): { lower: number; upper: number } {
  const stretch = exp((normalMultiplier(level) * standardError) / (chance * (1 - chance)));
  const odds = chance / (1 - chance);
  const lowerOdds = odds / stretch;
  return { lower: lowerOdds / (1 + lowerOdds), upper: 1 - 1 / (1 + odds * stretch) };
}

/**
 * Chance that the event happens to a trial, from accumulated hazards and counted events.
 *
 * @param counted 1 when the event happened in the trial, else 0.
 * @param hazard hazard each trial accumulated up to and including the event, or up to its end without one; the
 *   sum of the chances per landing, or the integral of the rate. >= 0, dimensionless; above 0 where counted.
 * @param options `level`, default 0.95.
 * @returns chances in [0, 1]. The interval is on the logit scale; with all hazards 0 the estimate is 0 and the
 *   upper bound Clopper and Pearson's. `counted` holds the plain share with Wilson's interval. The bias of the
 *   control coefficient is of order 1 / trials, far inside the standard error. Where few trials carry most of the
 *   hazard (log-normal hazards with a log standard deviation of 2), a 95 % interval covers about 90 %.
 * Throws RangeError for fewer than 2 trials, unequal lengths, a flag other than 0 or 1, a negative hazard, or an
 * event in a trial without hazard. O(trials).
 * @example
 * import { estimateChance } from 'gravelbar';
 * const risk = estimateChance(Uint8Array.of(0, 0, 0, 0), Float64Array.of(0.001, 0.002, 0.001, 0.004));
 * risk.counted.estimate; // => 0
 * risk.estimate.toFixed(6); // => '0.001997'
 */
export function estimateChance(
  counted: ArrayLike<number>,
  hazard: Float64Array,
  options: RiskOptions = {},
): RiskEstimate {
  const level = options.level ?? DEFAULT_LEVEL;
  requireLevel(level);
  const events = requireColumns(counted, hazard, 1);
  const trials = counted.length;
  const countedPart = { ...wilsonInterval(events, trials, level), events, trials, exposure: trials };
  const accumulated = mean(hazard);
  // An event cuts its own trial's hazard short: Cov(hazard, counted - hazard) is minus half the mean square.
  const halfSquare = compensatedSum(trials, (i) => hazard[i]! * hazard[i]!) / (2 * trials);
  const { coefficient, residualVariance } = control(counted, hazard, hazard, events, -halfSquare);
  const share = events / trials;
  const estimate = Math.min(share + coefficient * (accumulated - share), 1);
  const variance = Math.max(residualVariance, leastVariance(estimate));
  const standardError = Math.sqrt(variance / trials);
  const common = { estimate, standardError, counted: countedPart, controlCoefficient: coefficient };
  if (estimate === 0) return { ...common, lower: 0, upper: clopperPearsonInterval(0, trials, level).upper };
  if (estimate === 1)
    return { ...common, lower: clopperPearsonInterval(events, trials, level).lower, upper: 1 };
  return { ...common, ...logitInterval(estimate, standardError, level) };
}

/**
 * Rate of an event per unit of exposure, from accumulated hazards and counted events.
 *
 * @param counted events counted in each trial, whole numbers >= 0; later events may follow earlier ones.
 * @param hazard hazard each trial accumulated over the same stretch in which its events were counted, >= 0; above
 *   0 where counted.
 * @param exposure what each trial was exposed for (landings, hours), one number for all or one each, >= 0 with a
 *   sum above 0. The rate is total events per total exposure.
 * @param options `level`, default 0.95.
 * @returns rates per unit of exposure. The interval is on the log scale, so it never reaches 0 unless the
 *   estimate is 0; with all hazards 0 the upper bound is Garwood's. `counted` holds the plain rate with Garwood's
 *   interval, which is too short when rates differ much between trials.
 * Throws RangeError as `estimateChance` does, and for a bad exposure. O(trials).
 * Source: as above; the error of a ratio of means by the delta method.
 * @example
 * import { estimateRate } from 'gravelbar';
 * const rate = estimateRate(Uint8Array.of(0, 0, 1, 0), Float64Array.of(0.1, 0.2, 0.3, 0.2), 100);
 * rate.counted.estimate; // => 0.0025
 * rate.estimate.toFixed(5); // => '0.00200'
 */
export function estimateRate(
  counted: ArrayLike<number>,
  hazard: Float64Array,
  exposure: Float64Array | number,
  options: RiskOptions = {},
): RiskEstimate {
  const level = options.level ?? DEFAULT_LEVEL;
  requireLevel(level);
  const events = requireColumns(counted, hazard, Number.MAX_SAFE_INTEGER);
  const trials = counted.length;
  if (typeof exposure !== 'number' && exposure.length !== trials) {
    throw new RangeError(`exposure must be as long as counted (${trials}); found ${exposure.length}`);
  }
  const exposureOf = (i: number): number => {
    const value = typeof exposure === 'number' ? exposure : exposure[i]!;
    if (!(value >= 0)) throw new RangeError(`exposure must be 0 or more; found ${value} for trial ${i}`);
    return value;
  };
  const totalExposure = compensatedSum(trials, exposureOf);
  if (totalExposure === 0) throw new RangeError('exposure must add to more than 0; found 0');
  const countedPart = {
    ...garwoodInterval(events, totalExposure, level),
    events,
    trials,
    exposure: totalExposure,
  };
  const accumulatedRate = (mean(hazard) * trials) / totalExposure;
  const excess = new Float64Array(trials);
  for (let i = 0; i < trials; i += 1) excess[i] = hazard[i]! - accumulatedRate * exposureOf(i);
  const { coefficient, residualVariance } = control(counted, hazard, excess, events, 0);
  const countedRate = countedPart.estimate;
  const estimate = countedRate + coefficient * (accumulatedRate - countedRate);
  const standardError = Math.sqrt(residualVariance * trials) / totalExposure;
  const common = { estimate, standardError, counted: countedPart, controlCoefficient: coefficient };
  if (estimate === 0) return { ...common, lower: 0, upper: countedPart.upper };
  const stretch = exp((normalMultiplier(level) * standardError) / estimate);
  return { ...common, lower: estimate / stretch, upper: estimate * stretch };
}
