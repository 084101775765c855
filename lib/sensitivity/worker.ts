import { workerData } from 'node:worker_threads';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Pairing } from '../simulate/trials.js';
import { GivenWorldSimulator, type WorldAnswer, type WorldTask } from './given-world.js';

/** What a worker is given once, when it starts. */
export interface WorldWorkerInput {
  readonly scenario: CompiledScenario;
  readonly pairings: readonly Pairing[];
}

let simulator: GivenWorldSimulator | null = null;

/** Runs trials in given worlds in a worker. */
export default function work(task: WorldTask): WorldAnswer {
  if (simulator === null) {
    // The pool hands over [its own data, ours].
    const [, { scenario, pairings }] = workerData as [unknown, WorldWorkerInput];
    simulator = new GivenWorldSimulator(scenario, pairings);
  }
  return simulator.run(task);
}
