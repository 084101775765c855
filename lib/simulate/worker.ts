import { workerData } from 'node:worker_threads';
import { NonFiniteError, type NonFinitePlace } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from './columns.js';
import { Simulator, type Pairing, type TrialRange } from './trials.js';

/** What a worker is given once, when it starts. */
export interface WorkerInput {
  readonly scenario: CompiledScenario;
  readonly pairings: readonly Pairing[];
}

/** What a worker answers: results, or the place where a number stopped being finite. */
export type WorkerAnswer = { readonly blocks: PairingTrials[][] } | { readonly nonFinite: NonFinitePlace };

let simulator: Simulator | null = null;

/** Runs ranges of trials in a worker. */
export default function work(ranges: readonly TrialRange[]): WorkerAnswer {
  if (simulator === null) {
    // The pool hands over [its own data, ours].
    const [, input] = workerData as [unknown, WorkerInput];
    simulator = new Simulator(input.scenario, input.pairings);
  }
  return runRanges(simulator, ranges);
}

/** Runs ranges of trials; a number that is not finite is an answer, so that it survives the trip between threads. */
export function runRanges(simulator: Simulator, ranges: readonly TrialRange[]): WorkerAnswer {
  try {
    return { blocks: ranges.map((range) => simulator.runRange(range)) };
  } catch (error) {
    if (error instanceof NonFiniteError) return { nonFinite: error.place };
    throw error;
  }
}
