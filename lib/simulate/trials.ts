import type { CompiledMix, CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import { NonFiniteError } from '../problems.js';
import { EventClocks } from './clocks.js';
import type { PairingTrials } from './columns.js';
import { LandingDraws } from './landing-draws.js';
import { Ground } from './ground.js';
import { makeTracks, PairingRun, type Watcher } from './pairing-run.js';
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
  private readonly scenario: CompiledScenario;
  private readonly grounds: readonly Ground[];
  private readonly runsOnGround: readonly (readonly PairingRun[])[];
  private readonly draws: LandingDraws;
  private readonly events: EventClocks;
  private readonly world: Float64Array;
  private readonly worlds: WorldSource;

  constructor(
    scenario: CompiledScenario,
    pairings: readonly Pairing[],
    worlds: WorldSource = new DrawnWorlds(scenario),
    watch: Watcher | null = null,
  ) {
    this.scenario = scenario;
    const tracks = makeTracks();
    const mixes = [...new Set(pairings.map(({ mix }) => mix))];
    this.grounds = mixes.map((mix) => new Ground(scenario, at(scenario.mixes, mix)));
    this.runs = pairings.map(
      ({ setup, mix }) =>
        new PairingRun(
          scenario,
          at(scenario.setups, setup),
          this.grounds[mixes.indexOf(mix)]!,
          tracks,
          watch,
        ),
    );
    this.runsOnGround = mixes.map((mix) => this.runs.filter((_, index) => pairings[index]!.mix === mix));
    this.draws = new LandingDraws(scenario);
    this.events = new EventClocks(scenario.seed);
    this.world = new Float64Array(scenario.assumptions.length);
    this.worlds = worlds;
  }

  /** Lives through one trial with every pairing; the figures stay in the runs. */
  runTrial(trial: number, luck: number): void {
    const { draws, grounds, world } = this;
    this.worlds.fill(trial, world);
    this.requireFiniteWorld(trial);
    this.events.open(trial, luck);
    draws.open(trial, luck, world);
    for (const ground of grounds) ground.open(world);
    for (const run of this.runs) run.open(trial, world, this.events);
    while (this.runs.some(({ finished }) => !finished)) {
      draws.next();
      grounds.forEach((ground, index) => {
        const open = this.runsOnGround[index]!.filter(({ finished }) => !finished);
        if (open.length === 0) return;
        ground.lay(draws);
        for (const run of open) run.advance(draws);
      });
    }
  }

  /** A world with a value that is not finite would spoil the trial in ways that the landing loop might not see. */
  private requireFiniteWorld(trial: number): void {
    const index = this.world.findIndex((value) => !Number.isFinite(value));
    if (index < 0) return;
    throw new NonFiniteError({
      seed: this.scenario.seed,
      trial,
      landing: 0,
      pairing: 'all',
      quantity: `assumption ${this.scenario.assumptions[index]!.path}`,
      value: this.world[index]!,
    });
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
