import { setImmediate as breathe } from 'node:timers/promises';
import { CancelledError, UsageError, wholeNumber } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { emptyTrials, type PairingTrials } from './columns.js';
import { indexOfName } from './names.js';
import type { Watcher } from './pairing-run.js';
import type { Progress } from './simulate.js';
import { Simulator } from './trials.js';

/** Which trials to watch. */
export interface WatchRequest {
  /** Name of the set-up. */
  readonly setup: string;
  /** Name of the runway mix. */
  readonly mix: string;
  /** Number of trials, 2 to 100 000; default 400. */
  readonly trials?: number | undefined;
  /** Number of the first trial, for more of them later on; default 0. */
  readonly firstTrial?: number | undefined;
  /** Called as trials finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** Sees the trials of a pairing, one after the other. */
export interface TrialWatcher extends Watcher {
  /** Called before the first landing of a trial, counted from the first one watched. */
  begin(trial: number): void;
  /** Called after its last landing. */
  end(trial: number): void;
}

const DEFAULT_TRIALS = 400;
const MOST_TRIALS = 100_000;
/** Trials between two looks at the clock and the signal. */
const TRIALS_PER_BREATH = 16;

/**
 * Number of trials to watch.
 *
 * @throws UsageError if it is out of range.
 */
export function watchedTrials({ trials = DEFAULT_TRIALS }: WatchRequest): number {
  return wholeNumber('trials', trials, 2, MOST_TRIALS);
}

/**
 * Number of the first trial to watch.
 *
 * @throws UsageError if it is no trial number.
 */
function watchedFrom({ firstTrial = 0 }: WatchRequest): number {
  if (Number.isSafeInteger(firstTrial) && firstTrial >= 0) return firstTrial;
  throw new UsageError(`firstTrial is ${firstTrial}; it must be a whole number, 0 or more`);
}

/**
 * Lives through trials of one pairing under the eyes of a watcher. The trials are those of a run with the same
 * scenario, to the bit.
 *
 * @param scenario compiled scenario.
 * @param request which.
 * @param watcher sees every span.
 * @returns the figures of the trials.
 * @throws UsageError for a name or number that does not exist; CancelledError when the signal fires.
 */
export async function watchTrials(
  scenario: CompiledScenario,
  request: WatchRequest,
  watcher: TrialWatcher,
): Promise<PairingTrials> {
  const totalTrials = watchedTrials(request);
  const firstTrial = watchedFrom(request);
  const setup = indexOfName('set-up', request.setup, scenario.setups);
  const mix = indexOfName('runway mix', request.mix, scenario.mixes);
  const simulator = new Simulator(scenario, [{ setup, mix }], undefined, watcher);
  const table = emptyTrials(scenario, request.setup, request.mix, totalTrials);
  for (let trial = 0; trial < totalTrials; trial++) {
    if (trial % TRIALS_PER_BREATH === 0) {
      await breathe();
      if (request.signal?.aborted === true) throw new CancelledError(`stopped after ${trial} trials`);
      request.onProgress?.({ finishedTrials: trial, totalTrials });
    }
    watcher.begin(trial);
    simulator.runTrial(firstTrial + trial, 0);
    watcher.end(trial);
    simulator.runs[0]!.write(table, trial);
  }
  request.onProgress?.({ finishedTrials: totalTrials, totalTrials });
  return table;
}
