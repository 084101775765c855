import type { CompiledScenario } from '../scenario/compile.js';
import { EventClocks } from './clocks.js';
import { emptyTrials, type PairingTrials } from './columns.js';
import { Ground } from './ground.js';
import { LandingDraws } from './landing-draws.js';
import { BLOCK_LANDINGS } from './layout.js';
import { makeTracks, PairingRun } from './pairing-run.js';
import { DrawnWorlds } from './world.js';

/** A stretch of landings of the season on one gear set. */
export interface PlanLeg {
  /** Index of the set-up. */
  readonly setup: number;
  /** Landings of the season before the leg. */
  readonly firstLanding: number;
}

/** Which gear set is on through the season: legs in order, the first from landing 0. */
export type GearPlan = readonly PlanLeg[];

/** What one gear set of a plan went through: one row per trial, season columns only. */
export interface GearSetTrials {
  readonly setup: number;
  readonly trials: PairingTrials;
}

/** The gear sets of one plan in the trials. */
export interface PlanTrials {
  readonly plan: GearPlan;
  readonly sets: readonly GearSetTrials[];
}

/** A plan living through the season of one trial. */
class PlanRun {
  readonly plan: GearPlan;
  readonly setups: readonly number[];
  readonly runs: readonly PairingRun[];
  private leg = 0;

  constructor(plan: GearPlan, makeRun: (setup: number) => PairingRun) {
    this.plan = plan;
    this.setups = [...new Set(plan.map(({ setup }) => setup))];
    this.runs = this.setups.map(makeRun);
  }

  open(trial: number, world: Float64Array, events: EventClocks): void {
    this.leg = 0;
    for (const run of this.runs) run.open(trial, world, events);
  }

  /** Lives through a block, or what the season still holds of it. */
  advance(draws: LandingDraws, seasonLandings: number): void {
    const { plan } = this;
    const first = draws.firstLanding;
    const end = Math.min(BLOCK_LANDINGS, seasonLandings - first);
    for (let row = 0; row < end;) {
      while (this.leg + 1 < plan.length && plan[this.leg + 1]!.firstLanding <= first + row) this.leg++;
      const { setup, firstLanding } = plan[this.leg]!;
      const next = plan[this.leg + 1]?.firstLanding ?? seasonLandings;
      const to = Math.min(end, next - first);
      const run = this.runs[this.setups.indexOf(setup)]!;
      if (firstLanding === first + row && firstLanding > 0) {
        run.mount(draws, row, this.runs[this.setups.indexOf(plan[this.leg - 1]!.setup)]!);
      }
      run.fly(draws, row, to);
      row = to;
    }
  }
}

/**
 * Lives through one season with several plans side by side: the same worlds and landings for all. A gear set that is
 * taken off keeps its tires as they are until it is mounted again.
 */
export class PlanSimulator {
  private readonly scenario: CompiledScenario;
  private readonly ground: Ground;
  private readonly draws: LandingDraws;
  private readonly events: EventClocks;
  private readonly worlds: DrawnWorlds;
  private readonly world: Float64Array;
  private readonly plans: readonly PlanRun[];

  constructor(scenario: CompiledScenario, mix: number, plans: readonly GearPlan[]) {
    const tracks = makeTracks();
    this.scenario = scenario;
    this.ground = new Ground(scenario, scenario.mixes[mix]!);
    this.draws = new LandingDraws(scenario);
    this.events = new EventClocks(scenario.seed);
    this.worlds = new DrawnWorlds(scenario);
    this.world = new Float64Array(scenario.assumptions.length);
    this.plans = plans.map(
      (plan) =>
        new PlanRun(plan, (setup) => new PairingRun(scenario, scenario.setups[setup]!, this.ground, tracks)),
    );
  }

  /** Empty results for a number of trials. */
  emptyTrials(rows: number): PlanTrials[] {
    const { scenario, ground } = this;
    return this.plans.map(({ plan, setups }) => ({
      plan,
      sets: setups.map((setup) => ({
        setup,
        trials: emptyTrials(scenario, scenario.setups[setup]!.name, ground.mix.name, rows),
      })),
    }));
  }

  /**
   * Lives through one trial and writes it into a row.
   *
   * @param trial trial number: the same world as in a run of the scenario.
   * @param luck whose landings: 0 those of a run of the scenario, any other whole number fresh ones in the same world.
   * @param target results to write into.
   * @param row where.
   */
  runTrial(trial: number, luck: number, target: readonly PlanTrials[], row: number): void {
    const { draws, ground, events, world, plans } = this;
    const { landingsPerYear } = this.scenario.calendar;
    this.worlds.fill(trial, world);
    events.open(trial, luck);
    draws.open(trial, luck, world);
    ground.open(world);
    for (const plan of plans) plan.open(trial, world, events);
    for (let landing = 0; landing < landingsPerYear; landing += BLOCK_LANDINGS) {
      draws.next();
      ground.lay(draws);
      for (const plan of plans) plan.advance(draws, landingsPerYear);
    }
    plans.forEach(({ runs }, index) => {
      runs.forEach((run, set) => {
        run.closeSeason();
        run.write(target[index]!.sets[set]!.trials, row);
      });
    });
  }
}
