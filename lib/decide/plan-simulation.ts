/** Simulates plans and turns trials into columns of money, flats and days. */
import { setImmediate as breathe } from 'node:timers/promises';
import { expectedDaysLost, expectedSeasonCost } from '../estimate/season-figures.js';
import { CancelledError } from '../problems.js';
import type { CompiledFleet, CompiledFleetAirplane } from '../scenario/compile-fleet.js';
import { PlanSimulator, type GearPlan, type PlanTrials } from '../simulate/plan-run.js';

/** Figures of a plan, one value per trial. */
export interface PlanColumns {
  /** Money as expected along the path, and as it happened; null without prices. */
  readonly expectedCost: Float64Array | null;
  readonly happenedCost: Float64Array | null;
  readonly expectedFlats: Float64Array;
  readonly happenedFlats: Float64Array;
  readonly expectedDays: Float64Array;
  readonly happenedDays: Float64Array;
}

/** What a plan costs beside what is simulated. */
export interface PlanExtras {
  /** Money of the changes of gear sets, lost days included; 0 without prices. */
  readonly changeMoney: number;
  readonly changeDays: number;
}

/** How far the work has come. */
export interface PlanProgress {
  readonly signal: AbortSignal | undefined;
  /** Called with the trials finished since the last call. */
  readonly onTrials: (trials: number) => void;
}

/** Trials between two looks at the signal. */
const TRIALS_PER_BREATH = 8;

/**
 * Lives through the season with several plans of an airplane.
 *
 * @param airplane whose.
 * @param plans legs of each plan.
 * @param trials number of trials.
 * @param luck whose landings; see {@link PlanSimulator.runTrial}.
 * @param progress whom to tell, and what may stop the work.
 * @throws CancelledError when the signal fires.
 */
export async function simulatePlans(
  airplane: CompiledFleetAirplane,
  plans: readonly GearPlan[],
  trials: number,
  luck: number,
  progress: PlanProgress,
): Promise<PlanTrials[]> {
  const simulator = new PlanSimulator(airplane.scenario, airplane.mix, plans);
  const table = simulator.emptyTrials(trials);
  for (let trial = 0; trial < trials; trial++) {
    if (trial % TRIALS_PER_BREATH === 0) {
      await breathe();
      if (progress.signal?.aborted === true) throw new CancelledError('the search for plans was stopped');
    }
    simulator.runTrial(trial, luck, table, trial);
    progress.onTrials(1);
  }
  return table;
}

/**
 * What the changes of a plan take.
 *
 * @param fleet prices and days of a change.
 * @param airplane whose scenario has the price of a lost day.
 * @param changes number of changes in a year.
 */
export function extrasOf(
  { swap }: CompiledFleet,
  { scenario }: CompiledFleetAirplane,
  changes: number,
): PlanExtras {
  const changeDays = changes * swap.daysLost;
  const changeMoney = changes * (swap.price ?? 0) + changeDays * (scenario.costs?.downDay ?? 0);
  return { changeDays, changeMoney };
}

/**
 * Columns of a plan: its gear sets added up, changes included.
 *
 * @param airplane whose.
 * @param trials of the plan.
 * @param extras from {@link extrasOf}.
 */
export function planColumns(
  airplane: CompiledFleetAirplane,
  { sets }: PlanTrials,
  { changeMoney, changeDays }: PlanExtras,
): PlanColumns {
  const { costs } = airplane.scenario;
  const add = (columns: readonly ArrayLike<number>[], more: number): Float64Array =>
    Float64Array.from(columns[0]!, (_, row) => columns.reduce((sum, column) => sum + column[row]!, more));
  const tables = sets.map(({ trials }) => trials);
  return {
    expectedCost:
      costs === null
        ? null
        : add(
            tables.map((t) => expectedSeasonCost(costs, t)),
            changeMoney,
          ),
    happenedCost:
      costs === null
        ? null
        : add(
            tables.map((t) => t.columns.cost),
            changeMoney,
          ),
    expectedFlats: add(
      tables.map((t) => t.columns.flatsHazard),
      0,
    ),
    happenedFlats: add(
      tables.map((t) => t.columns.flats),
      0,
    ),
    expectedDays: add(tables.map(expectedDaysLost), changeDays),
    happenedDays: add(
      tables.map((t) => t.columns.downDays),
      changeDays,
    ),
  };
}
