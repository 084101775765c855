import type { Criterion } from '../decide/criteria.js';
import { DEFAULT_LEVEL, type IntervalEstimate } from '../estimate/interval.js';
import { sampleStandardDeviation } from '../estimate/moments.js';
import { exp, log } from '../numeric/elementary.js';
import { UsageError, properShare } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import type { WorldSource } from '../simulate/world.js';
import { GROUPS, hermite } from './conditional-mean.js';
import { indexOfAssumption } from './doubted.js';
import { sortedDraws } from './fitted.js';
import { fitGains, valueWithInterval, type GainFits } from './partial-value.js';
import { valuesInTrials } from './trial-inputs.js';
import { openChoice } from './value-of-information.js';

/** Readings that might be taken of one assumption. */
export interface ProposedReadings {
  /** Place of the assumption: lognormal or normal. */
  readonly assumption: string;
  /** Number of readings, 1 or more; each with an error of its own. */
  readonly readings: number;
  /** Standard deviation of one reading of a lognormal assumption, as a share of the value (0.2: twenty per cent). */
  readonly errorShare?: number | undefined;
  /** Standard deviation of one reading of a normal assumption, SI units. */
  readonly errorSi?: number | undefined;
}

/** Options of {@link valueOfReadings}. */
export interface ReadingsOptions extends ProposedReadings {
  readonly mix: string;
  readonly criterion: Criterion;
  /** Two-sided level of the interval, default 0.95. */
  readonly level?: number | undefined;
  /** Where the worlds of the run came from; default: drawn from the scenario. */
  readonly worlds?: WorldSource | undefined;
}

/** Expected value of readings, before it is known what they say. Plain data that can be stored as JSON. */
export interface ValueOfReadings {
  readonly kind: 'value of readings';
  readonly assumption: string;
  readonly mix: string;
  readonly criterion: Criterion;
  readonly unit: string;
  readonly readings: number;
  /** Share of the variance of the assumption (on its own scale, logarithm for a lognormal one) that they take away. */
  readonly resolvedShare: number;
  readonly value: IntervalEstimate;
  /** The same from readings without error, by the same model. */
  readonly ifKnown: IntervalEstimate;
}

/** Steps of the rule over what readings may say. */
const STEP = 0.02;
const REACH = 6;

/**
 * Expected value of taking readings of an assumption before choosing a set-up (preposterior analysis).
 *
 * Readings of a normal number, or of the logarithm of a lognormal one, leave it normal (conjugate), so what they may
 * say is known beforehand: the mean after them is normal and takes a known share of the variance. Mean gains are fitted
 * to the trials as a polynomial of the normal score of the assumption; their means after readings follow exactly. An
 * assumption that was fitted to records is taken as normal (or lognormal) with the spread of its draws.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results: at least two set-ups on the mix, at least 100 trials.
 * @param options assumption, readings and their error, mix, criterion.
 * @throws UsageError for names that do not exist, an assumption of another kind, or numbers out of range.
 * Source: Raiffa and Schlaifer (1961), from memory; Hermite polynomials of correlated normal numbers (Mehler).
 */
export function valueOfReadings(
  scenario: CompiledScenario,
  simulation: Simulation,
  options: ReadingsOptions,
): ValueOfReadings {
  const { mix, criterion, readings, level = DEFAULT_LEVEL } = options;
  properShare('level', level);
  const index = indexOfAssumption(scenario, options.assumption);
  const error = scoreError(scenario, index, options);
  if (!Number.isInteger(readings) || readings < 1) {
    throw new UsageError(`readings is ${readings}; it must be a whole number, 1 or more`);
  }
  const { choice, unit } = openChoice(scenario, simulation, mix, criterion);
  const fitted = fitGains(choice, valuesInTrials(scenario, simulation, [index], options.worlds))!;
  const resolvedShare = 1 / (1 + (error * error) / readings);
  const valued = (share: number): IntervalEstimate => {
    const values = Array.from({ length: GROUPS + 1 }, (_, leftOut) => preposterior(fitted, share, leftOut));
    return valueWithInterval(values[GROUPS]!, values.slice(0, GROUPS), level);
  };
  return {
    kind: 'value of readings',
    assumption: options.assumption,
    mix,
    criterion,
    unit,
    readings,
    resolvedShare,
    value: valued(resolvedShare),
    ifKnown: valued(1),
  };
}

/** Standard deviation of a reading in standard deviations of the assumption. */
function scoreError(
  scenario: CompiledScenario,
  index: number,
  { errorShare, errorSi }: ProposedReadings,
): number {
  const { kind, b, path } = scenario.assumptions[index]!;
  if (kind !== 'lognormal' && kind !== 'normal') {
    throw new UsageError(
      `"${path}" is ${kind}: the value of readings is worked out for lognormal and normal assumptions only`,
    );
  }
  const [name, error] = kind === 'lognormal' ? ['errorShare', errorShare] : ['errorSi', errorSi];
  if (error === undefined || !(error >= 0 && error < Infinity)) {
    throw new UsageError(
      `"${path}" is ${kind}: ${name} must be a finite number of 0 or more; found ${error}`,
    );
  }
  const draws = sortedDraws(scenario, index);
  if (draws === null) return error / b;
  return error / sampleStandardDeviation(kind === 'lognormal' ? draws.map((value) => log(value)) : draws);
}

/** Mean over what readings may say of the best mean gain after them, less that of one choice for all. */
function preposterior({ fits }: GainFits, resolvedShare: number, leftOut: number): number {
  const correlation = Math.sqrt(resolvedShare);
  let sum = 0;
  let weights = 0;
  for (let k = -Math.round(REACH / STEP); k <= Math.round(REACH / STEP); k++) {
    const score = k * STEP;
    const weight = exp(-0.5 * score * score);
    let top = 0;
    for (const fit of fits) {
      const { coefficients, shrink, mean } = fit[leftOut]!;
      let gain = mean;
      let factor = shrink;
      for (let degree = 1; degree < coefficients.length; degree++) {
        factor *= correlation;
        gain += factor * coefficients[degree]! * hermite(score, degree);
      }
      top = Math.max(top, gain);
    }
    sum += weight * top;
    weights += weight;
  }
  return Math.max(0, sum / weights - Math.max(0, ...fits.map((fit) => fit[leftOut]!.mean)));
}

/** What a pair of tread readings tells of a wear factor. */
export interface TreadReadingPair {
  /** Standard deviation of one reading of the depth gauge, m. */
  readonly gaugeErrorM: number;
  /** Depth worn off in a landing, m, as expected. */
  readonly wornPerLandingM: number;
  /** Landings between the two readings. */
  readonly landings: number;
  /** Coefficient of variation of wear from landing to landing. */
  readonly landingWearSpread: number;
}

/**
 * Error of a wear rate from two tread readings, as a share of the rate: both gauge errors over the depth worn off, and
 * the luck of the landings between.
 *
 * @returns for `errorShare` of {@link ProposedReadings}, where all landings between were on the surface in question.
 * @throws UsageError for numbers out of range.
 * Source: own algebra, variance of a difference of readings.
 * @example
 * import { treadReadingErrorShare } from 'gravelbar';
 * const pair = { gaugeErrorM: 0.0001, wornPerLandingM: 0.00001, landings: 100, landingWearSpread: 0.5 };
 * treadReadingErrorShare(pair).toFixed(2); // => '0.15'
 */
export function treadReadingErrorShare(pair: TreadReadingPair): number {
  const { gaugeErrorM, wornPerLandingM, landings, landingWearSpread } = pair;
  if (!(gaugeErrorM >= 0 && wornPerLandingM > 0 && landings >= 1 && landingWearSpread >= 0)) {
    throw new UsageError(
      'a pair of readings needs a gauge error and wear spread of 0 or more, wear above 0 and at least one landing; ' +
        `found ${JSON.stringify(pair)}`,
    );
  }
  const gauge = (Math.SQRT2 * gaugeErrorM) / (wornPerLandingM * landings);
  return Math.sqrt(gauge * gauge + (landingWearSpread * landingWearSpread) / landings);
}
