/** Lives through trials in worlds that a study chooses, on one thread or several. */
import { availableParallelism } from 'node:os';
import { setImmediate as breathe } from 'node:timers/promises';
import { Tinypool } from 'tinypool';
import { NonFiniteError, wholeNumber } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import type { Progress } from '../simulate/simulate.js';
import type { OpenScope } from './figures.js';
import { GivenWorldSimulator, type WorldAnswer, type WorldTask } from './given-world.js';
import type { WorldWorkerInput } from './worker.js';

/** How a study is run. */
export interface StudyRun {
  /** Worker threads, 1 to 64; default: the cores available. The result does not depend on it. */
  readonly workers?: number | undefined;
  /** Called as trials finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** Trials in chosen worlds. */
export interface WorldPlan {
  readonly jobs: number;
  /** Writes the world of a job, SI values; called in order of the jobs. Gives its trial number and its luck. */
  readonly fill: (job: number, world: Float64Array) => { readonly trial: number; readonly luck: number };
}

/** Figures of the finished jobs: by set-up, then by figure of the scope; one value per job. */
export interface WorldFigures {
  /** The first so many jobs are finished, without gaps. */
  readonly finished: number;
  readonly columns: readonly (readonly Float64Array[])[];
  /** Landings computed for each job, all set-ups together. */
  readonly landings: Float64Array;
}

const MOST_WORKERS = 64;
const JOBS_PER_TASK = 64;

/**
 * Number of worker threads.
 *
 * @throws UsageError if it is out of range.
 */
export function checkedWorkers(workers = Math.min(availableParallelism(), MOST_WORKERS)): number {
  return wholeNumber('workers', workers, 1, MOST_WORKERS);
}

/** Landings computed for the first so many jobs. */
export function landingsOf({ landings }: WorldFigures, jobs: number): number {
  return landings.subarray(0, jobs).reduce((sum, each) => sum + each, 0);
}

/**
 * Runs a plan. Stopped by the signal it gives what is finished.
 *
 * @throws NonFiniteError when a model gives a number that is not finite.
 */
export async function runWorlds(
  scenario: CompiledScenario,
  scope: OpenScope,
  plan: WorldPlan,
  run: StudyRun,
): Promise<WorldFigures> {
  const threads = Math.min(checkedWorkers(run.workers), Math.ceil(plan.jobs / JOBS_PER_TASK));
  const pairings = scope.setupIndices.map((setup) => ({ setup, mix: scope.mixIndex }));
  const collector = new FigureCollector(scope, plan.jobs);
  const input: WorldWorkerInput = { scenario, pairings };
  const tasks = new TaskCutter(scenario.assumptions.length, plan);
  const tell = (): void => {
    run.onProgress?.({ finishedTrials: collector.count, totalTrials: plan.jobs });
  };
  if (threads <= 1) await runHere(input, tasks, collector, run.signal, tell);
  else await runInPool(input, tasks, collector, threads, run.signal, tell);
  return collector.figures();
}

/** Cuts a plan into tasks, in order. */
class TaskCutter {
  private start = 0;
  private readonly size: number;
  private readonly plan: WorldPlan;

  constructor(size: number, plan: WorldPlan) {
    this.size = size;
    this.plan = plan;
  }

  next(): { readonly start: number; readonly task: WorldTask } | null {
    const { start, size, plan } = this;
    const count = Math.min(JOBS_PER_TASK, plan.jobs - start);
    if (count <= 0) return null;
    const task: WorldTask = {
      worlds: new Float64Array(count * size),
      trials: new Float64Array(count),
      luck: new Float64Array(count),
    };
    for (let job = 0; job < count; job++) {
      const { trial, luck } = plan.fill(start + job, task.worlds.subarray(job * size, (job + 1) * size));
      task.trials[job] = trial;
      task.luck[job] = luck;
    }
    this.start += count;
    return { start, task };
  }
}

/** Puts figures where they belong, whatever the order they come in. */
class FigureCollector {
  count = 0;
  private readonly scope: OpenScope;
  private readonly columns: readonly (readonly Float64Array[])[];
  private readonly landings: Float64Array;
  private readonly done = new Map<number, number>();

  constructor(scope: OpenScope, jobs: number) {
    this.scope = scope;
    this.columns = scope.setups.map(() => scope.readers.map(() => new Float64Array(jobs)));
    this.landings = new Float64Array(jobs);
  }

  take(start: number, answer: WorldAnswer): void {
    if ('nonFinite' in answer) throw new NonFiniteError(answer.nonFinite);
    answer.blocks.forEach((trials: PairingTrials, setup) => {
      this.scope.readers.forEach(({ read }, figure) => {
        this.columns[setup]![figure]!.set(read(trials), start);
      });
      trials.columns.simulatedLandings.forEach((landings, row) => {
        this.landings[start + row]! += landings;
      });
    });
    const rows = answer.blocks[0]!.rows;
    this.done.set(start, rows);
    this.count += rows;
  }

  figures(): WorldFigures {
    let finished = 0;
    for (let rows = this.done.get(0); rows !== undefined; rows = this.done.get(finished)) finished += rows;
    return {
      finished,
      columns: this.columns.map((figures) => figures.map((column) => column.subarray(0, finished))),
      landings: this.landings.subarray(0, finished),
    };
  }
}

async function runHere(
  { scenario, pairings }: WorldWorkerInput,
  tasks: TaskCutter,
  collector: FigureCollector,
  signal: AbortSignal | undefined,
  tell: () => void,
): Promise<void> {
  const simulator = new GivenWorldSimulator(scenario, pairings);
  for (let next = tasks.next(); next !== null && signal?.aborted !== true; next = tasks.next()) {
    collector.take(next.start, simulator.run(next.task));
    tell();
    await breathe();
  }
}

async function runInPool(
  workerData: WorldWorkerInput,
  tasks: TaskCutter,
  collector: FigureCollector,
  threads: number,
  signal: AbortSignal | undefined,
  tell: () => void,
): Promise<void> {
  const pool = new Tinypool({
    filename: new URL('./worker.js', import.meta.url).href,
    minThreads: threads,
    maxThreads: threads,
    workerData,
    isolateWorkers: false,
  });
  let failed = false;
  // One feeder per thread keeps at most one task under way on each, so a stop loses little work.
  const feed = async (): Promise<void> => {
    while (!failed && signal?.aborted !== true) {
      const next = tasks.next();
      if (next === null) return;
      try {
        collector.take(next.start, (await pool.run(next.task)) as WorldAnswer);
        tell();
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
