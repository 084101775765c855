import type { CompiledMix, CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { EventClocks } from './clocks.js';
import type { PairingTrials } from './columns.js';
import { LandingDraws } from './landing-draws.js';
import { PairingRun, type LandingWatcher } from './pairing-run.js';
import { DrawnWorlds, type WorldSource } from './world.js';

/** A set-up on a runway mix, by index into the compiled scenario. */
export interface Pairing {
  readonly setup: number;
  readonly mix: number;
}

/** Evenly spaced trials. */
export interface TrialRange {
  readonly firstTrial: number;
  readonly trials: number;
  /** From one trial to the next, usually 1. */
  readonly step: number;
  /** 0 for the trials, 1 for their twins: the same worlds with fresh landings. */
  readonly luck: number;
}

/**
 * All pairings of a scenario, set-up by set-up.
 *
 * @param scenario compiled scenario.
 * @returns pairings in the order of the file.
 */
export function allPairings(scenario: CompiledScenario): Pairing[] {
  return scenario.setups.flatMap((_, setup) => scenario.mixes.map((__, mix) => ({ setup, mix })));
}

/**
 * The landing loop: pairings of a scenario side by side on the same landings, trial after trial.
 */
export class Simulator {
  readonly runs: readonly PairingRun[];
  private readonly draws: LandingDraws;
  private readonly events: EventClocks;
  private readonly world: Float64Array;
  private readonly worlds: WorldSource;

  constructor(
    scenario: CompiledScenario,
    pairings: readonly Pairing[],
    worlds: WorldSource = new DrawnWorlds(scenario),
    watch: LandingWatcher | null = null,
  ) {
    this.runs = pairings.map(
      ({ setup, mix }) =>
        new PairingRun(scenario, at(scenario.setups, setup), at(scenario.mixes, mix), watch),
    );
    this.draws = new LandingDraws(scenario);
    this.events = new EventClocks(scenario.seed);
    this.world = new Float64Array(scenario.assumptions.length);
    this.worlds = worlds;
  }

  /** Lives through one trial with every pairing; the figures stay in the runs. */
  runTrial(trial: number, luck: number): void {
    const { draws, runs, world } = this;
    this.worlds.fill(trial, world);
    this.events.open(trial, luck);
    draws.open(trial, luck, world);
    for (const run of runs) run.open(trial, world, this.events);
    let open = runs.length;
    while (open > 0) {
      draws.next();
      open = 0;
      for (const run of runs) {
        if (!run.finished) run.advance(draws);
        if (!run.finished) open++;
      }
    }
  }

  /**
   * Runs a range of trials.
   *
   * @param range which trials.
   * @returns results of each pairing, one row per trial.
   */
  runRange({ firstTrial, trials, step, luck }: TrialRange): PairingTrials[] {
    const tables = this.runs.map((run) => run.emptyTrials(trials));
    for (let row = 0; row < trials; row++) {
      this.runTrial(firstTrial + row * step, luck);
      this.runs.forEach((run, index) => {
        run.write(tables[index]!, row);
      });
    }
    return tables;
  }
}

function at<Item extends CompiledSetup | CompiledMix>(items: readonly Item[], index: number): Item {
  const item = items[index];
  if (item === undefined) throw new RangeError(`no pairing index ${index}`);
  return item;
}
