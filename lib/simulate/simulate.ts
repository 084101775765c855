import { availableParallelism } from 'node:os';
import { setImmediate as breathe } from 'node:timers/promises';
import { Tinypool } from 'tinypool';
import { CancelledError, NonFiniteError, UsageError, wholeNumber } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { emptyTrials, firstRows, placeRows, type PairingTrials } from './columns.js';
import { allPairings, Simulator, type Pairing, type TrialRange } from './trials.js';
import { runRanges, type WorkerAnswer, type WorkerInput } from './worker.js';

/** One trial in this many has a twin: the same world with fresh landings, to tell luck from ignorance. */
export const TWIN_EVERY = 4;

const MOST_TRIALS = 10_000_000;
const MOST_WORKERS = 64;
const MOST_TRIALS_PER_TASK = 64;
const TASKS_PER_WORKER = 12;

/** How far a run has come. */
export interface Progress {
  readonly finishedTrials: number;
  /** Trials asked for; in a run to a precision, those of the rounds begun so far. */
  readonly totalTrials: number;
}

/** Options of {@link simulate}. */
export interface SimulateOptions {
  /** Number of trials, 2 to 10 000 000; default: that of the scenario. */
  readonly trials?: number | undefined;
  /** Number of the first trial, for a run in parts; a multiple of 4; default 0. */
  readonly firstTrial?: number | undefined;
  /** Worker threads, 1 to 64; default: the cores available. The result does not depend on it. */
  readonly workers?: number | undefined;
  /** Pairings to run; default: all. The results of a pairing do not depend on the others. */
  readonly pairings?: readonly Pairing[] | undefined;
  /** Called as trials finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the run. */
  readonly signal?: AbortSignal | undefined;
}

/** Results of many trials: columns per pairing, and those of the twins. */
export interface Simulation {
  readonly seed: string;
  readonly firstTrial: number;
  readonly trials: number;
  /** False if the run was stopped early; the trials are then the first ones, without gaps. */
  readonly complete: boolean;
  readonly pairings: readonly PairingTrials[];
  /** Row k is the twin of trial firstTrial + 4 k. */
  readonly twins: readonly PairingTrials[];
}

/** A run stopped on request, with the trials that were finished. */
export class StoppedRunError extends CancelledError {
  /** The first trials, as a result in its own right; null if fewer than two were finished. */
  readonly partial: Simulation | null;

  constructor(partial: Simulation | null) {
    super(`stopped after ${partial?.trials ?? 0} finished trials`);
    this.partial = partial;
  }
}

/**
 * Runs a scenario landing by landing.
 *
 * The same scenario, seed and version give the same bits for any number of workers and any subset of pairings.
 * Memory: about 260 bytes per trial and pairing.
 *
 * @param scenario compiled scenario.
 * @param options how much to run, on how many threads, and how to hear of progress and stop.
 * @returns the columns.
 * @throws UsageError for options out of range.
 * @throws StoppedRunError when the signal fires; it carries the finished trials.
 * @throws NonFiniteError when a model gives a number that is not finite; it names seed, trial and landing.
 */
export async function simulate(
  scenario: CompiledScenario,
  options: SimulateOptions = {},
): Promise<Simulation> {
  const trials = wholeNumber('trials', options.trials ?? scenario.trials, 2, MOST_TRIALS);
  const firstTrial = wholeNumber('firstTrial', options.firstTrial ?? 0, 0, Number.MAX_SAFE_INTEGER / 2);
  const workers = wholeNumber(
    'workers',
    options.workers ?? Math.min(availableParallelism(), MOST_WORKERS),
    1,
    MOST_WORKERS,
  );
  if (firstTrial % TWIN_EVERY !== 0)
    throw new UsageError(`firstTrial is ${firstTrial}; it must be a multiple of ${TWIN_EVERY}`);
  const pairings = options.pairings ?? allPairings(scenario);
  if (pairings.length === 0) throw new UsageError('there is no pairing to run: give at least one');

  const collector = new Collector(scenario, pairings, firstTrial, trials);
  const tasks = cutTasks(firstTrial, trials, workers);
  const take = (task: readonly TrialRange[], answer: WorkerAnswer): void => {
    if ('nonFinite' in answer) throw new NonFiniteError(answer.nonFinite);
    collector.place(task, answer.blocks);
    options.onProgress?.({ finishedTrials: collector.finishedTrials, totalTrials: trials });
  };
  const input: WorkerInput = { scenario, pairings };
  try {
    if (Math.min(workers, tasks.length) === 1) await runHere(input, tasks, take, options.signal);
    else await runInPool(input, tasks, take, workers, options.signal);
  } catch (error) {
    if (options.signal?.aborted === true && !(error instanceof NonFiniteError)) {
      throw new StoppedRunError(collector.partial());
    }
    throw error;
  }
  return collector.whole();
}

/** A task is a run of consecutive trials and the twins that belong to them. */
function cutTasks(firstTrial: number, trials: number, workers: number): TrialRange[][] {
  const size = Math.max(
    TWIN_EVERY,
    Math.min(
      MOST_TRIALS_PER_TASK,
      TWIN_EVERY * Math.ceil(trials / (workers * TASKS_PER_WORKER * TWIN_EVERY)),
    ),
  );
  const tasks: TrialRange[][] = [];
  for (let start = 0; start < trials; start += size) {
    const count = Math.min(size, trials - start);
    tasks.push([
      { firstTrial: firstTrial + start, trials: count, step: 1, luck: 0 },
      { firstTrial: firstTrial + start, trials: Math.ceil(count / TWIN_EVERY), step: TWIN_EVERY, luck: 1 },
    ]);
  }
  return tasks;
}

type Take = (task: readonly TrialRange[], answer: WorkerAnswer) => void;

async function runHere(
  { scenario, pairings }: WorkerInput,
  tasks: readonly TrialRange[][],
  take: Take,
  signal: AbortSignal | undefined,
): Promise<void> {
  const simulator = new Simulator(scenario, pairings);
  for (const task of tasks) {
    signal?.throwIfAborted();
    take(task, runRanges(simulator, task));
    await breathe();
  }
}

async function runInPool(
  input: WorkerInput,
  tasks: readonly TrialRange[][],
  take: Take,
  workers: number,
  signal: AbortSignal | undefined,
): Promise<void> {
  const threads = Math.min(workers, tasks.length);
  const pool = new Tinypool({
    filename: new URL('./worker.js', import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
    workerData: input,
    isolateWorkers: false,
  });
  let next = 0;
  let failed = false;
  // One feeder per thread keeps at most one task under way on each, so a stop loses little work.
  const feed = async (): Promise<void> => {
    while (next < tasks.length && !failed) {
      signal?.throwIfAborted();
      const task = tasks[next++]!;
      const answer = (await pool.run(task)) as WorkerAnswer;
      try {
        take(task, answer);
      } catch (error) {
        failed = true;
        throw error;
      }
    }
  };
  try {
    const ends = await Promise.allSettled(Array.from({ length: threads }, feed));
    for (const end of ends) if (end.status === 'rejected') throw end.reason;
  } finally {
    await pool.destroy();
  }
}

/** Puts blocks where they belong, whatever the order they come in. */
class Collector {
  finishedTrials = 0;
  private readonly scenario: CompiledScenario;
  private readonly firstTrial: number;
  private readonly trials: number;
  private readonly mains: readonly PairingTrials[];
  private readonly twins: readonly PairingTrials[];
  private readonly finished = new Map<number, number>();

  constructor(scenario: CompiledScenario, pairings: readonly Pairing[], firstTrial: number, trials: number) {
    this.scenario = scenario;
    this.firstTrial = firstTrial;
    this.trials = trials;
    const empty = (rows: number): PairingTrials[] =>
      pairings.map(({ setup, mix }) =>
        emptyTrials(scenario, scenario.setups[setup]!.name, scenario.mixes[mix]!.name, rows),
      );
    this.mains = empty(trials);
    this.twins = empty(Math.ceil(trials / TWIN_EVERY));
  }

  place(task: readonly TrialRange[], blocks: readonly PairingTrials[][]): void {
    const start = task[0]!.firstTrial - this.firstTrial;
    blocks[0]!.forEach((block, index) => {
      placeRows(this.mains[index]!, block, start);
    });
    blocks[1]!.forEach((block, index) => {
      placeRows(this.twins[index]!, block, start / TWIN_EVERY);
    });
    this.finished.set(start, task[0]!.trials);
    this.finishedTrials += task[0]!.trials;
  }

  whole(): Simulation {
    return this.upTo(this.trials, true);
  }

  partial(): Simulation | null {
    let rows = 0;
    for (let count = this.finished.get(rows); count !== undefined; count = this.finished.get(rows))
      rows += count;
    return rows < 2 ? null : this.upTo(rows, rows === this.trials);
  }

  private upTo(rows: number, complete: boolean): Simulation {
    return {
      seed: this.scenario.seed,
      firstTrial: this.firstTrial,
      trials: rows,
      complete,
      pairings: this.mains.map((table) => firstRows(table, rows)),
      twins: this.twins.map((table) => firstRows(table, Math.ceil(rows / TWIN_EVERY))),
    };
  }
}

/**
 * Joins runs of consecutive parts of one scenario into one, exactly as if they had been run together.
 *
 * @param parts simulations of the same scenario and pairings, each starting where the one before ends; all but the
 *   last hold a multiple of 4 trials.
 * @returns the whole.
 * @throws UsageError if the parts do not fit together.
 */
export function joinSimulations(scenario: CompiledScenario, parts: readonly Simulation[]): Simulation {
  const first = parts[0];
  if (first === undefined) throw new UsageError('there is nothing to join: give at least one part');
  let rows = 0;
  for (const part of parts) {
    if (part.firstTrial !== first.firstTrial + rows || part.seed !== first.seed || rows % TWIN_EVERY !== 0) {
      throw new UsageError(
        `the part that starts at trial ${part.firstTrial} does not continue the one before`,
      );
    }
    rows += part.trials;
  }
  const join = (kind: 'pairings' | 'twins', total: number): PairingTrials[] =>
    first[kind].map((table, index) => {
      const { setup, mix } = table;
      const whole = emptyTrials(scenario, setup, mix, total);
      let row = 0;
      for (const part of parts) {
        placeRows(whole, part[kind][index]!, row);
        row += part[kind][index]!.rows;
      }
      return whole;
    });
  return {
    seed: first.seed,
    firstTrial: first.firstTrial,
    trials: rows,
    complete: parts.every((part) => part.complete),
    pairings: join('pairings', rows),
    twins: join('twins', Math.ceil(rows / TWIN_EVERY)),
  };
}
