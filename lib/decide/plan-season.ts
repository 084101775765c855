/** Finds the best plan of gear sets through the season for each airplane of a fleet. */
import { mean } from '../estimate/moments.js';
import { missingPrices } from '../estimate/season-figures.js';
import { UsageError, wholeNumber } from '../problems.js';
import { compileFleet, type CompiledFleet, type CompiledFleetAirplane } from '../scenario/compile-fleet.js';
import type { Scenario } from '../scenario/schema/index.js';
import { version } from '../version.js';
import { breakEvensOf } from './plan-break-even.js';
import { criterionColumn, figuresOfPlans, takenByChanges, type SimulatedPlan } from './plan-figures.js';
import { extrasOf, planColumns, simulatePlans, type PlanProgress } from './plan-simulation.js';
import {
  allChoices,
  changesOf,
  cheapestChoices,
  countChoices,
  legsOf,
  stretchesOf,
  type Choice,
  type Stretch,
} from './plan-space.js';
import { fleetTotals } from './plan-totals.js';
import type { AirplanePlans, FleetPlan, PlanCriterion, PlanOptions } from './plan-types.js';

const DEFAULT_MOST_PLANS = 96;
const MOST_PLANS = 1000;
const MOST_TRIALS = 100_000;
/** Up to so many plans are listed one by one before it is decided which to simulate. */
const MOST_LISTED = 100_000;

/**
 * Finds the best plan of gear sets through the season for each airplane of a fleet, and what the fleet then costs.
 *
 * All plans of an airplane meet the same landings in the same worlds. A season begins on new tires; tires of a set
 * that is off keep their wear. The year repeats, so a set that comes off for a part of the year must go on again, and
 * both changes are paid.
 *
 * @param scenario a checked scenario with a fleet.
 * @param options what to choose by, how much to simulate, and how to hear of progress and stop.
 * @returns the plans, best first.
 * @throws UsageError for a scenario without a fleet, or options out of range; CancelledError when the signal fires.
 */
export async function planSeason(scenario: Scenario, options: PlanOptions = {}): Promise<FleetPlan> {
  const fleet = compileFleet(scenario);
  if (fleet === null) {
    throw new UsageError(
      'the scenario has no "fleet": say there which airplanes fly, and which gear sets fit',
    );
  }
  const trials = options.trials ?? scenario.run.trials;
  wholeNumber('trials', trials, 2, MOST_TRIALS);
  const mostPlans = options.mostPlans ?? DEFAULT_MOST_PLANS;
  wholeNumber('mostPlans', mostPlans, 2, MOST_PLANS);
  const needs = missingForPlans(fleet);
  const criterion = options.criterion ?? (needs === null ? 'cost' : 'daysLost');
  if (criterion === 'cost' && needs !== null)
    throw new UsageError(`plans cannot be chosen by money: ${needs}`);
  const progress = progressOf(fleet, trials, options);
  const searched: Searched[] = [];
  for (const airplane of fleet.airplanes) {
    searched.push(await search(fleet, airplane, { trials, mostPlans, criterion, needs }, progress));
  }
  return {
    scenario: scenario.name,
    seed: String(scenario.run.seed),
    trials,
    version: version(),
    criterion,
    currency: needs === null ? scenario.costs!.currency : null,
    needs,
    airplanes: searched.map(({ plans }) => plans),
    totals: await fleetTotals(fleet, searched, trials, progress),
  };
}

interface SearchOptions {
  readonly trials: number;
  readonly mostPlans: number;
  readonly criterion: PlanCriterion;
  readonly needs: string | null;
}

interface Searched {
  readonly plans: AirplanePlans;
  readonly best: SimulatedPlan;
  readonly legs: ReturnType<typeof legsOf>;
}

async function search(
  fleet: CompiledFleet,
  airplane: CompiledFleetAirplane,
  { trials, mostPlans, criterion, needs }: SearchOptions,
  progress: PlanProgress,
): Promise<Searched> {
  const stretches = stretchesOf(airplane.months);
  const legs = (choice: Choice): ReturnType<typeof legsOf> =>
    legsOf(choice, stretches, airplane.months, airplane.gearSets);
  const simulateAll = async (choices: readonly Choice[]): Promise<SimulatedPlan[]> => {
    const tables = await simulatePlans(airplane, choices.map(legs), trials, 0, progress);
    return tables.map((table, index) => {
      const choice = choices[index]!;
      const extras = extrasOf(fleet, airplane, changesOf(choice));
      const columns = planColumns(airplane, table, extras);
      return { choice, extras, columns: needs === null ? columns : withoutMoney(columns) };
    });
  };
  const sets = airplane.gearSets.length;
  const listed = countChoices(sets, stretches.length) <= MOST_LISTED;
  const all = listed ? allChoices(sets, stretches.length, fleet.swap.most) : null;
  const complete = all !== null && all.length <= mostPlans;
  const plans = complete
    ? await simulateAll(all)
    : await promising(fleet, airplane, stretches, mostPlans, criterion, simulateAll);
  const { sorted, figures } = figuresOfPlans(airplane, stretches, plans, criterion);
  const possible = all?.length ?? countChoices(sets, stretches.length);
  return {
    best: sorted[0]!,
    legs: legs(sorted[0]!.choice),
    plans: {
      airplane: airplane.name,
      count: airplane.count,
      mix: airplane.scenario.mixes[airplane.mix]!.name,
      months: airplane.months.map(({ month, landings, mayChange }) => ({ month, landings, mayChange })),
      plans: figures,
      possible,
      complete,
      search: complete
        ? `all ${possible} plans simulated on the same landings`
        : `${plans.length} of ${possible} plans simulated on the same landings: those without a change, those that ` +
          'differ from one of them in one stretch, and the best when stretches are priced apart (dynamic programming)',
      notToldApart: figures.filter(({ versusBest }) => versusBest.lower <= 0).map(({ name }) => name),
      breakEvens: breakEvensOf(sorted, figures, criterion),
    },
  };
}

/**
 * The most promising plans where there are too many: the best when every stretch is priced by itself, by what it adds
 * to or takes from the best plan without a change.
 */
async function promising(
  fleet: CompiledFleet,
  airplane: CompiledFleetAirplane,
  stretches: readonly Stretch[],
  mostPlans: number,
  criterion: PlanCriterion,
  simulateAll: (choices: readonly Choice[]) => Promise<SimulatedPlan[]>,
): Promise<SimulatedPlan[]> {
  const sets = airplane.gearSets.map((_, index) => index);
  const constant = await simulateAll(sets.map((set) => stretches.map(() => set)));
  const running = (plan: SimulatedPlan): number =>
    mean(criterionColumn(plan.columns, criterion)) - takenByChanges(plan.extras, criterion);
  const base = constant.reduce((best, plan) => (running(plan) < running(best) ? plan : best));
  const baseSet = base.choice[0]!;
  const others = stretches.flatMap((_, stretch) =>
    sets
      .filter((set) => set !== baseSet)
      .map((set) => base.choice.map((own, index) => (index === stretch ? set : own))),
  );
  const deviations = await simulateAll(others);
  const price = sets.map((set) =>
    stretches.map((_, stretch) => {
      const plan = deviations.find(
        ({ choice }) => choice[stretch] === set && choice.every((own, k) => k === stretch || own === baseSet),
      );
      return plan === undefined || set === baseSet ? 0 : running(plan) - running(base);
    }),
  );
  const known = [...constant, ...deviations.filter(({ choice }) => changesOf(choice) <= fleet.swap.most)];
  const change = takenByChanges(extrasOf(fleet, airplane, 1), criterion);
  const seen = new Set(known.map(({ choice }) => choice.join(' ')));
  const wanted = Math.max(mostPlans - known.length, 1);
  const candidates = cheapestChoices(price, change, fleet.swap.most, mostPlans)
    .map(({ choice }) => choice)
    .filter((choice) => !seen.has(choice.join(' ')))
    .slice(0, wanted);
  return [...known, ...(candidates.length === 0 ? [] : await simulateAll(candidates))];
}

function withoutMoney(columns: SimulatedPlan['columns']): SimulatedPlan['columns'] {
  return { ...columns, expectedCost: null, happenedCost: null };
}

/** What is missing to price the plans, in words; null if nothing is. */
function missingForPlans({ airplanes, swap }: CompiledFleet): string | null {
  const needs = airplanes.flatMap(({ scenario, gearSets }) =>
    gearSets.flatMap((index) => missingPrices(scenario, scenario.setups[index]!) ?? []),
  );
  const severalSets = airplanes.some(({ gearSets }) => gearSets.length > 1);
  if (severalSets && swap.price === null) needs.push('not priced: needs "fleet.swap.price"');
  return needs.length === 0 ? null : [...new Set(needs)].join('; ');
}

/** Progress in trials; how many rounds an airplane takes is not known beforehand, so it never goes back. */
function progressOf(fleet: CompiledFleet, trials: number, options: PlanOptions): PlanProgress {
  let finishedTrials = 0;
  const planned = fleet.airplanes.reduce((sum, { count }) => sum + trials * (1 + count), 0);
  return {
    signal: options.signal,
    onTrials: (more) => {
      finishedTrials += more;
      options.onProgress?.({ finishedTrials, totalTrials: Math.max(planned, finishedTrials) });
    },
  };
}
