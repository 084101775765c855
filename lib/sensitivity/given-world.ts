import type { NonFinitePlace } from '../problems.js';
import { NonFiniteError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import { Simulator, type Pairing } from '../simulate/trials.js';
import type { WorldSource } from '../simulate/world.js';

/** Trials to live through, each in a world of its own. */
export interface WorldTask {
  /** Values of all assumptions, one row of SI values per job. */
  readonly worlds: Float64Array;
  /** Trial number of each job: it names the landings. */
  readonly trials: Float64Array;
  /** Whose landings: 0 those of a run of the scenario, any other whole number fresh ones. */
  readonly luck: Float64Array;
}

/** Results of a task, or the place where a number stopped being finite. */
export type WorldAnswer = { readonly blocks: PairingTrials[] } | { readonly nonFinite: NonFinitePlace };

class HeldWorld implements WorldSource {
  values: Float64Array = new Float64Array(0);

  fill(_trial: number, world: Float64Array): void {
    world.set(this.values);
  }
}

/** Lives through trials in worlds that are handed in one by one, instead of drawn. */
export class GivenWorldSimulator {
  private readonly held = new HeldWorld();
  private readonly simulator: Simulator;
  private readonly size: number;

  constructor(scenario: CompiledScenario, pairings: readonly Pairing[]) {
    this.simulator = new Simulator(scenario, pairings, this.held);
    this.size = scenario.assumptions.length;
  }

  /** Runs a task; a number that is not finite is an answer, so that it survives the trip between threads. */
  run({ worlds, trials, luck }: WorldTask): WorldAnswer {
    const { simulator, held, size } = this;
    const blocks = simulator.runs.map((run) => run.emptyTrials(trials.length));
    try {
      for (let job = 0; job < trials.length; job++) {
        held.values = worlds.subarray(job * size, (job + 1) * size);
        simulator.runTrial(trials[job]!, luck[job]!);
        simulator.runs.forEach((run, index) => {
          run.write(blocks[index]!, job);
        });
      }
    } catch (error) {
      if (error instanceof NonFiniteError) return { nonFinite: error.place };
      throw error;
    }
    return { blocks };
  }
}
