import { UsageError } from '../problems.js';
import { READING_ERROR_M } from '../scenario/compile-today.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { checkFit, remarksOnErrors } from './check-fit.js';
import { dateOfDay } from './dates.js';
import { RecordLikelihood, type RecordErrors } from './likelihood.js';
import { planRecords, type RecordHabits } from './likelihood-plan.js';
import { nextReadings, wholeKnowledge } from './predict-next.js';
import { FIT_PROBABILITIES, summarizePosterior } from './posterior-summary.js';
import type { AssumptionFit } from './posterior-types.js';
import type { Logbook } from './record-types.js';
import type { Breath } from './sampler-mode.js';
import { SharedWork } from './sampler-work.js';
import { samplePosterior, type SampledPosterior } from './sampler.js';

/** Options of {@link fitAssumptions}. */
export interface AssumptionFitOptions {
  /** Names the random streams; default: that of the scenario. */
  readonly seed?: string | number | undefined;
  /** Draws kept in the fit, 2 to 20 000; default 1000. */
  readonly draws?: number | undefined;
  /** Chains, 2 to 16; default 4. */
  readonly chains?: number | undefined;
  /** Effective size that every number should reach, 50 to 20 000; default 400. */
  readonly effectiveSize?: number | undefined;
  /** Most draws per chain before the fit gives up, 100 to 1 000 000; default 50 000. */
  readonly mostDraws?: number | undefined;
  /** Tires whose groove readings are held out of the fit and only predicted. */
  readonly heldOut?: readonly string[] | undefined;
  /** Runway mix of landings on ground that the log does not name; default: the first of the scenario. */
  readonly mix?: string | undefined;
  /** Standard deviation of a groove reading without a stated error, m; default 0.4 mm (assumption). */
  readonly grooveErrorM?: number | undefined;
  /** Step of a groove reading without a stated one, m; default 0.1 mm. */
  readonly grooveStepM?: number | undefined;
  /** Standard deviation of the groove of new tires about that of the scenario, m; default 0.1 mm (assumption). */
  readonly newGrooveSpreadM?: number | undefined;
  /** Spread of the depth at which people judge a tire worn, m; default 0.5 mm (assumption). */
  readonly wornSpreadM?: number | undefined;
  /** Standard deviation of a pressure reading, Pa; default 0.5 psi (assumption). */
  readonly pressureErrorPa?: number | undefined;
  /** How far off the stated reading errors may be: 90 % quantile over median, above 1; default 1.5 (assumption). */
  readonly errorDoubt?: number | undefined;
  /** Called now and then: share of the work that seems to be done, 0 to 1, never less than before. */
  readonly onProgress?: ((doneShare: number) => void) | undefined;
  /** Stops the fit. */
  readonly signal?: AbortSignal | undefined;
}

/**
 * The chains did not agree or are worth too few draws. The estimate so far is attached, for a look and not for use.
 */
export class NotConvergedError extends Error {
  override readonly name: string = 'NotConvergedError';
  /** The fit as far as it came. */
  readonly fit: AssumptionFit;

  /** @param fit the fit as far as it came. */
  constructor(fit: AssumptionFit) {
    const { largestRHat, smallestEffectiveSize, draws } = fit.convergence;
    super(
      `the fit did not converge: R-hat up to ${largestRHat.toFixed(3)} and effective sizes down to ` +
        `${Math.round(smallestEffectiveSize)} after ${draws} draws. First look at the conflicts of the fit so far and mend ` +
        `what is wrong in the records; then raise mostDraws, or chains to 8. Where readings state errors far below what ` +
        `a gauge can do, state larger ones; where nothing helps, fix an assumption that the records cannot tell apart`,
    );
    this.fit = fit;
  }
}

const GROOVE_STEP_M = 0.0001;
const NEW_GROOVE_SPREAD_M = 0.0001;
const WORN_SPREAD_M = 0.0005;
/** 0.5 psi. */
const PRESSURE_ERROR_PA = 3447.38;
const ERROR_DOUBT = 1.5;
const DEFAULT_DRAWS = 1000;
/** An assumption that moves the logarithm of the likelihood by less than this over a standard deviation is left alone. */
const LEAST_EFFECT = 0.01;
/** Share of the progress before the sampler starts, and when it ends. */
const BEFORE_SAMPLING = 0.02;
const AFTER_SAMPLING = 0.95;
/** Draws that the checks are made with. */
const CHECKED_DRAWS = 200;

function numberIn(
  name: string,
  value: number | undefined,
  fallback: number,
  least: number,
  most: number,
): number {
  const chosen = value ?? fallback;
  if (chosen >= least && chosen <= most) return chosen;
  throw new UsageError(`${name} is ${chosen}; it must be a number from ${least} to ${most}`);
}

function wholeIn(
  name: string,
  value: number | undefined,
  fallback: number,
  least: number,
  most: number,
): number {
  const chosen = numberIn(name, value, fallback, least, most);
  if (Number.isInteger(chosen)) return chosen;
  throw new UsageError(`${name} is ${chosen}; it must be a whole number`);
}

function habitsOf(options: AssumptionFitOptions, logbook: Logbook): RecordHabits {
  const ids = new Set(logbook.tires.map(({ id }) => id));
  const unknown = (options.heldOut ?? []).filter((id) => !ids.has(id));
  if (unknown.length > 0) {
    throw new UsageError(`heldOut names ${unknown.join(', ')}; the records have no such tire`);
  }
  return {
    grooveErrorM: numberIn('grooveErrorM', options.grooveErrorM, READING_ERROR_M, 1e-6, 0.01),
    grooveStepM: numberIn('grooveStepM', options.grooveStepM, GROOVE_STEP_M, 0, 0.01),
    newGrooveSpreadM: numberIn('newGrooveSpreadM', options.newGrooveSpreadM, NEW_GROOVE_SPREAD_M, 0, 0.01),
    mix: options.mix,
    heldOut: new Set(options.heldOut ?? []),
  };
}

function errorsOf(options: AssumptionFitOptions): RecordErrors {
  return {
    pressureErrorPa: numberIn('pressureErrorPa', options.pressureErrorPa, PRESSURE_ERROR_PA, 1, 1e5),
    wornSpreadM: numberIn('wornSpreadM', options.wornSpreadM, WORN_SPREAD_M, 1e-6, 0.01),
    errorDoubt: numberIn('errorDoubt', options.errorDoubt, ERROR_DOUBT, 1.0001, 10),
  };
}

/** Coordinates that the likelihood depends on at all: the others keep their prior, exactly. */
async function touchedCoordinates(likelihood: RecordLikelihood, breath: Breath): Promise<number[]> {
  const level = likelihood.logLikelihood(likelihood.at([], new Float64Array(0)));
  const touched: number[] = [];
  for (let index = 0; index < likelihood.coordinates.length; index++) {
    await breath();
    const moves = [-1, 1].some((score) => {
      const moved = likelihood.logLikelihood(likelihood.at([index], Float64Array.of(score)));
      return Math.abs(moved - level) > LEAST_EFFECT;
    });
    if (moves) touched.push(index);
  }
  return touched;
}

/** Rows spread evenly over all chains. */
function thin(chains: readonly (readonly Float64Array[])[], count: number): Float64Array[] {
  const rows = chains.flat();
  const kept = Math.min(count, rows.length);
  return Array.from({ length: kept }, (_, k) => rows[Math.floor(((k + 0.5) * rows.length) / kept)]!);
}

const NOTHING: SampledPosterior = {
  chains: [],
  diagnostics: [],
  converged: true,
  acceptedShare: 1,
  mode: new Float64Array(0),
  modeLogDensity: 0,
};

/**
 * Updates the assumptions of a scenario by records of tires in service (Bayes' rule): what the scenario holds is the
 * prior, what happened to the tires is weighed by the simulator's own landings, and what comes out is a set of draws in
 * which everything that the records tie together stays together.
 *
 * Readings are taken as normal about the depth that the landings since the reading before would wear, with the luck of
 * landings added up; punctures and cuts as Poisson events whose rate follows the rubber left; pressures as exponential
 * loss with rare slow leaks; removals as worn as a judgement about the limit. See DEVELOPERS.md for what is left out.
 *
 * @param scenario compiled scenario whose assumptions are the prior; all records are of its airplane or ones like it.
 * @param logbook checked records.
 * @param options seed, size, errors of readings.
 * @returns the fit, plain data; the same for any order of the records.
 * @throws UsageError for options out of range and for names that the scenario does not have.
 * @throws NotConvergedError when the draws cannot be trusted; it carries the fit so far.
 * @throws CancelledError when the signal fires.
 */
export async function fitAssumptions(
  scenario: CompiledScenario,
  logbook: Logbook,
  options: AssumptionFitOptions = {},
): Promise<AssumptionFit> {
  if (scenario.fitted !== undefined) {
    throw new UsageError(
      'the scenario is fitted already: fit all records together to the scenario as it was before, as the same records would count twice',
    );
  }
  const habits = habitsOf(options, logbook);
  const errors = errorsOf(options);
  const keptDraws = wholeIn('draws', options.draws, DEFAULT_DRAWS, 2, 20_000);
  const chains = wholeIn('chains', options.chains, 4, 2, 16);
  const effectiveSize = numberIn('effectiveSize', options.effectiveSize, 400, 50, 20_000);
  const mostDraws = wholeIn('mostDraws', options.mostDraws, 50_000, 100, 1_000_000);
  const seed = String(options.seed ?? scenario.seed);
  const plan = planRecords(scenario, logbook, habits);
  const likelihood = new RecordLikelihood(scenario, plan, errors);
  const work = new SharedWork(options);
  work.enter(BEFORE_SAMPLING, 2 * likelihood.coordinates.length);
  const touched = await touchedCoordinates(likelihood, work.breath);
  const sampled =
    touched.length === 0
      ? NOTHING
      : await samplePosterior(
          touched.length,
          (scores, figures) => likelihood.logLikelihood(likelihood.at(touched, scores), figures),
          {
            seed,
            chains,
            effectiveSize,
            mostDraws,
            signal: options.signal,
            onProgress: (share) => {
              options.onProgress?.(BEFORE_SAMPLING + (AFTER_SAMPLING - BEFORE_SAMPLING) * share);
            },
          },
        );
  work.skip(AFTER_SAMPLING);
  work.enter(1, CHECKED_DRAWS);
  const fit = await assemble(scenario, logbook, likelihood, touched, sampled, {
    seed,
    keptDraws,
    errors,
    habits,
    breath: work.breath,
  });
  work.enter(1);
  options.onProgress?.(1);
  if (!sampled.converged) throw new NotConvergedError(fit);
  return fit;
}

interface Assembly {
  readonly seed: string;
  readonly keptDraws: number;
  readonly errors: RecordErrors;
  readonly habits: RecordHabits;
  readonly breath: Breath;
}

async function assemble(
  scenario: CompiledScenario,
  logbook: Logbook,
  likelihood: RecordLikelihood,
  touched: readonly number[],
  sampled: SampledPosterior,
  { seed, keptDraws, errors, habits, breath }: Assembly,
): Promise<AssumptionFit> {
  const { plan } = likelihood;
  const coordinates = touched.map((index) => likelihood.coordinates[index]!);
  const summary = touched.length === 0 ? null : summarizePosterior(coordinates, sampled);
  const rows = thin(sampled.chains, keptDraws);
  const ofScenario = coordinates.flatMap(({ index }, column) => (index === null ? [] : [column]));
  const checked = touched.length === 0 ? [new Float64Array(0)] : thin(sampled.chains, CHECKED_DRAWS);
  const newGroove = new Map(plan.tires.map(({ id, kind }) => [id, plan.kinds[kind]!.tire.newTreadM]));
  const checks = await checkFit(
    likelihood,
    checked.map((scores) => likelihood.at(touched, scores)),
    summary?.assumptions ?? [],
    newGroove,
    breath,
  );
  const knowledge = wholeKnowledge(
    likelihood.coordinates,
    touched,
    summary?.moments.mean ?? new Float64Array(0),
    summary?.moments.covariance ?? new Float64Array(0),
  );
  const [firstDate, lastDate] = [dateOfDay(logbook.firstDay), dateOfDay(logbook.lastDay)];
  const records = plan.used.readings + plan.used.ends + plan.used.cuts + plan.used.pressureChecks;
  return {
    kind: 'gravelbar fit',
    formatVersion: 1,
    scenario: scenario.name,
    source: `fitted to ${logbook.name} (${records} records, ${firstDate} to ${lastDate})`,
    logbook: { name: logbook.name, note: logbook.note, firstDate, lastDate },
    seed,
    used: plan.used,
    remarks: [...plan.remarks, ...remarksOnErrors(summary?.assumptions ?? [])],
    probabilities: FIT_PROBABILITIES,
    assumptions: summary?.assumptions ?? [],
    untouched: likelihood.coordinates.flatMap(({ path, index }, at) =>
      index === null || touched.includes(at) ? [] : [path],
    ),
    correlations: summary?.correlations ?? [],
    directions: summary?.directions ?? [],
    nextReadings: nextReadings(scenario, knowledge, {
      grooveM: habits.grooveErrorM,
      pressurePa: errors.pressureErrorPa,
    }),
    checks,
    draws: {
      paths: ofScenario.map((column) => coordinates[column]!.path),
      rows: rows.map((row) => ofScenario.map((column) => coordinates[column]!.valueAt(row[column]!))),
    },
    convergence: {
      converged: sampled.converged,
      largestRHat: Math.max(1, ...sampled.diagnostics.map(({ rHat }) => rHat)),
      smallestEffectiveSize: Math.min(
        sampled.chains.reduce((sum, chain) => sum + chain.length, 0),
        ...sampled.diagnostics.map((each) => each.effectiveSize),
      ),
      draws: sampled.chains.reduce((sum, chain) => sum + chain.length, 0),
      chains: sampled.chains.length,
      acceptedShare: sampled.acceptedShare,
      evaluations: likelihood.evaluations,
    },
  };
}
