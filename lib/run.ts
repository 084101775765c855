import { createHash } from 'node:crypto';
import { cautionsFor, type Caution } from './cautions.js';
import { summarize, type PairingSummary } from './estimate/summary.js';
import { CancelledError, UsageError } from './problems.js';
import type { CompiledScenario } from './scenario/compile.js';
import {
  joinSimulations,
  simulate,
  StoppedRunError,
  type SimulateOptions,
  type Simulation,
} from './simulate/simulate.js';
import { version } from './version.js';

/** The answer of a run: plain data that can be stored as JSON. */
export interface RunResult {
  /** Title of the scenario. */
  readonly scenario: string;
  /** Remark of the scenario; empty if it has none. */
  readonly note: string;
  readonly airplane: string;
  /** What one season is: the landings and flight hours of a year. */
  readonly season: { readonly landings: number; readonly flightHours: number };
  /** Version of gravelbar that made it. */
  readonly version: string;
  readonly seed: string;
  readonly trials: number;
  /** False if the run was stopped early; the trials are then the first ones. */
  readonly complete: boolean;
  /** Precision asked for and reached, as relative half-width of the 95 % interval of the median life. */
  readonly precision: { readonly asked: number; readonly reached: number | null } | null;
  /** SHA-256 of the compiled scenario: equal for equal inputs. */
  readonly scenarioHash: string;
  /** Label of the prices; null without prices. */
  readonly currency: string | null;
  readonly pairings: readonly PairingSummary[];
  readonly cautions: readonly Caution[];
}

/** A result and the columns it was made from. */
export interface Run {
  readonly result: RunResult;
  readonly simulation: Simulation;
}

/** Options of {@link runScenario}. */
export interface RunOptions extends SimulateOptions {
  /**
   * Stop when the 95 % interval of the median life of every pairing is within this share of it, 0.001 to 0.5. Trials
   * are added in rounds of fixed sizes, so the result still depends on scenario and seed only; `trials` is then the
   * most to run.
   */
  readonly precision?: number | undefined;
}

/** A run stopped on request; `partial` holds the answer from the finished trials, if there were enough. */
export class StoppedError extends CancelledError {
  readonly partial: Run | null;

  constructor(partial: Run | null) {
    super(`stopped after ${partial?.result.trials ?? 0} finished trials`);
    this.partial = partial;
  }
}

const FIRST_ROUND_TRIALS = 256;
const MOST_TRIALS_FOR_PRECISION = 1_000_000;
const LEAST_PRECISION = 0.001;
const MOST_PRECISION = 0.5;

/**
 * Runs a scenario and estimates everything from it.
 *
 * @param scenario compiled scenario.
 * @param options how much to run and how to follow it.
 * @returns the answer and its columns.
 * @throws UsageError for options out of range.
 * @throws StoppedError when the signal fires; it carries the answer from the finished trials.
 * @throws NonFiniteError when a model gives a number that is not finite.
 */
export async function runScenario(scenario: CompiledScenario, options: RunOptions = {}): Promise<Run> {
  const { precision } = options;
  if (precision !== undefined && !(precision >= LEAST_PRECISION && precision <= MOST_PRECISION)) {
    throw new UsageError(
      `precision is ${precision}; it must be a share from ${LEAST_PRECISION} to ${MOST_PRECISION}; for five per cent write "5 %" or 0.05`,
    );
  }
  try {
    if (precision === undefined) return answer(scenario, await simulate(scenario, options), null);
    return await runToPrecision(scenario, options, precision);
  } catch (error) {
    if (error instanceof StoppedRunError) {
      throw new StoppedError(
        error.partial === null ? null : answer(scenario, error.partial, precision ?? null),
      );
    }
    throw error;
  }
}

async function runToPrecision(
  scenario: CompiledScenario,
  options: RunOptions,
  precision: number,
): Promise<Run> {
  const most = options.trials ?? MOST_TRIALS_FOR_PRECISION;
  const start = options.firstTrial ?? 0;
  let simulation: Simulation | null = null;
  for (;;) {
    const done: number = simulation?.trials ?? 0;
    const round = Math.min(done === 0 ? FIRST_ROUND_TRIALS : done, most - done);
    const part = await nextRound(scenario, options, simulation, start + done, round);
    simulation = simulation === null ? part : joinSimulations(scenario, [simulation, part]);
    const run = answer(scenario, simulation, precision);
    const reached = run.result.precision?.reached ?? null;
    // A last round of one trial could not be run by itself.
    if ((reached !== null && reached <= precision) || most - simulation.trials < 2) return run;
  }
}

async function nextRound(
  scenario: CompiledScenario,
  options: RunOptions,
  before: Simulation | null,
  firstTrial: number,
  trials: number,
): Promise<Simulation> {
  const done = before?.trials ?? 0;
  try {
    return await simulate(scenario, {
      ...options,
      firstTrial,
      trials,
      onProgress: (progress) =>
        options.onProgress?.({
          finishedTrials: done + progress.finishedTrials,
          totalTrials: done + progress.totalTrials,
        }),
    });
  } catch (error) {
    if (!(error instanceof StoppedRunError) || before === null) throw error;
    const joined = error.partial === null ? before : joinSimulations(scenario, [before, error.partial]);
    throw new StoppedRunError({ ...joined, complete: false });
  }
}

function answer(scenario: CompiledScenario, simulation: Simulation, precision: number | null): Run {
  const pairings = summarize(scenario, simulation);
  const { seed, trials, complete } = simulation;
  return {
    simulation,
    result: {
      scenario: scenario.name,
      note: scenario.note,
      airplane: scenario.airplaneName,
      season: {
        landings: scenario.calendar.landingsPerYear,
        flightHours: scenario.calendar.flightHoursPerYear,
      },
      version: version(),
      seed,
      trials,
      complete,
      precision: precision === null ? null : { asked: precision, reached: precisionReached(pairings) },
      scenarioHash: scenarioHash(scenario),
      currency: scenario.costs?.currency ?? null,
      pairings,
      cautions: cautionsFor(scenario, pairings, trials, complete),
    },
  };
}

/** Largest relative half-width of the 95 % interval of the median life in hours; null while one is unknown. */
function precisionReached(pairings: readonly PairingSummary[]): number | null {
  let worst = 0;
  for (const { life } of pairings) {
    const { lower, upper } = life.landings.intervals.p50;
    const median = life.landings.p50;
    if (lower === null || upper === null || median === null) return null;
    worst = Math.max(worst, (upper - lower) / 2 / median);
  }
  return worst;
}

/**
 * SHA-256 of a compiled scenario: the same for two files that mean the same.
 *
 * @param scenario compiled scenario.
 * @returns 64 hexadecimal digits.
 */
export function scenarioHash(scenario: CompiledScenario): string {
  const plain = JSON.stringify(scenario, (_, value: unknown) =>
    value instanceof Float64Array ? Array.from(value) : value,
  );
  return createHash('sha256').update(plain).digest('hex');
}
