/** What the whole fleet takes on its best plans. */
import { meanWithInterval } from '../estimate/paired.js';
import type { CompiledFleet } from '../scenario/compile-fleet.js';
import type { GearPlan } from '../simulate/plan-run.js';
import { highMoney, type SimulatedPlan } from './plan-figures.js';
import { planColumns, simulatePlans, type PlanColumns, type PlanProgress } from './plan-simulation.js';
import type { FleetTotals } from './plan-types.js';

/** The best plan of an airplane. */
export interface BestPlan {
  readonly best: SimulatedPlan;
  readonly legs: GearPlan;
}

/**
 * Adds up the fleet, trial by trial: one world for all airplanes, landings of its own for each of them.
 *
 * @param fleet the fleet.
 * @param plans the best plan of each of its airplanes.
 * @param trials number of trials.
 * @param progress whom to tell, and what may stop the work.
 */
export async function fleetTotals(
  fleet: CompiledFleet,
  plans: readonly BestPlan[],
  trials: number,
  progress: PlanProgress,
): Promise<FleetTotals> {
  const columns: PlanColumns[] = [];
  // 0 and 1 are the landings of runs and of their twins.
  let luck = 2;
  for (const [index, airplane] of fleet.airplanes.entries()) {
    const { best, legs } = plans[index]!;
    for (let copy = 0; copy < airplane.count; copy++) {
      const [table] = await simulatePlans(airplane, [legs], trials, luck++, progress);
      const own = planColumns(airplane, table!, best.extras);
      columns.push(
        best.columns.expectedCost === null ? { ...own, expectedCost: null, happenedCost: null } : own,
      );
    }
  }
  const add = (field: keyof PlanColumns): Float64Array => {
    const sum = new Float64Array(trials);
    for (const column of columns) column[field]!.forEach((value, row) => (sum[row]! += value));
    return sum;
  };
  const priced = columns.every(({ expectedCost }) => expectedCost !== null);
  const happened = priced ? add('happenedCost') : null;
  return {
    airplanes: columns.length,
    money:
      happened === null
        ? null
        : {
            perSeason: meanWithInterval(add('expectedCost')),
            ...highMoney(happened),
          },
    flats: meanWithInterval(add('expectedFlats')),
    daysLost: meanWithInterval(add('expectedDays')),
  };
}
