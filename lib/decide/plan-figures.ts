/** Figures of plans from their columns. */
import { expectedShortfall } from '../estimate/expected-shortfall.js';
import { mean } from '../estimate/moments.js';
import { meanWithInterval, pairedDifference } from '../estimate/paired.js';
import { quantileInterval } from '../estimate/quantile-interval.js';
import type { CompiledFleetAirplane } from '../scenario/compile-fleet.js';
import { flightHoursAfter } from '../scenario/calendar.js';
import { changesOf, setsByMonth, type Choice, type Stretch } from './plan-space.js';
import { cruiseMoneyOf } from '../models/cruise.js';
import type { PlanColumns, PlanExtras } from './plan-simulation.js';
import type { PlanCriterion, PlanFigures, PlanLegFigures, PlanMoney } from './plan-types.js';

/** A plan with its columns. */
export interface SimulatedPlan {
  readonly choice: Choice;
  readonly columns: PlanColumns;
  readonly extras: PlanExtras;
}

const WORST_SHARE = 0.1;
const HIGH = 0.9;

/** The column that plans are chosen by: expected along each path, for the least error. */
export function criterionColumn(columns: PlanColumns, criterion: PlanCriterion): Float64Array {
  if (criterion === 'flats') return columns.expectedFlats;
  if (criterion === 'daysLost') return columns.expectedDays;
  if (columns.expectedCost === null) throw new RangeError('plans without prices cannot be chosen by money');
  return columns.expectedCost;
}

function happenedColumn(columns: PlanColumns, criterion: PlanCriterion): Float64Array {
  if (criterion === 'flats') return columns.happenedFlats;
  if (criterion === 'daysLost') return columns.happenedDays;
  return columns.happenedCost!;
}

/** What the changes of a plan take, in the unit of the criterion: nothing of flats. */
export function takenByChanges({ changeMoney, changeDays }: PlanExtras, criterion: PlanCriterion): number {
  if (criterion === 'cost') return changeMoney;
  return criterion === 'daysLost' ? changeDays : 0;
}

/** The upper end of the money of a season. */
export function highMoney(happened: Float64Array): Pick<PlanMoney, 'p90' | 'worstTenth'> {
  const sorted = happened.slice().sort();
  return { p90: quantileInterval(sorted, HIGH), worstTenth: expectedShortfall(sorted, WORST_SHARE) };
}

/**
 * Sorts plans, best first, and works out their figures.
 *
 * @param airplane whose.
 * @param stretches of its season.
 * @param plans simulated on the same landings.
 * @param criterion what to choose by.
 */
export function figuresOfPlans(
  airplane: CompiledFleetAirplane,
  stretches: readonly Stretch[],
  plans: readonly SimulatedPlan[],
  criterion: PlanCriterion,
): { readonly sorted: readonly SimulatedPlan[]; readonly figures: readonly PlanFigures[] } {
  const value = plans.map(({ columns }) => mean(criterionColumn(columns, criterion)));
  const order = plans.map((_, index) => index).sort((a, b) => value[a]! - value[b]! || a - b);
  const sorted = order.map((index) => plans[index]!);
  const best = criterionColumn(sorted[0]!.columns, criterion);
  const shares = bestShares(sorted.map(({ columns }) => happenedColumn(columns, criterion)));
  const figures = sorted.map((plan, index): PlanFigures => {
    const legs = legFigures(airplane, stretches, plan.choice);
    return {
      name: planName(legs),
      legs,
      setupOfMonth: setupOfMonth(airplane, stretches, plan.choice),
      changes: changesOf(plan.choice),
      money: moneyOfPlan(airplane, plan, legs),
      flats: meanWithInterval(plan.columns.expectedFlats),
      daysLost: meanWithInterval(plan.columns.expectedDays),
      versusBest: pairedDifference(criterionColumn(plan.columns, criterion), best),
      bestShare: shares[index]!,
    };
  });
  return { sorted, figures };
}

/** Share of trials in which each plan is best; those that tie share the trial. */
function bestShares(columns: readonly Float64Array[]): number[] {
  const rows = columns[0]!.length;
  const shares = columns.map(() => 0);
  for (let row = 0; row < rows; row++) {
    const least = columns.reduce((low, column) => Math.min(low, column[row]!), Infinity);
    const winners = columns.flatMap((column, index) => (column[row] === least ? [index] : []));
    for (const index of winners) shares[index]! += 1 / winners.length / rows;
  }
  return shares;
}

function setupOfMonth(
  { scenario, months, gearSets }: CompiledFleetAirplane,
  stretches: readonly Stretch[],
  choice: Choice,
): string[] {
  return setsByMonth(choice, stretches, months.length).map((set) => scenario.setups[gearSets[set]!]!.name);
}

function legFigures(
  airplane: CompiledFleetAirplane,
  stretches: readonly Stretch[],
  choice: Choice,
): PlanLegFigures[] {
  const { months, scenario } = airplane;
  const setups = setupOfMonth(airplane, stretches, choice);
  const legs: { setup: string; months: string[]; landings: number; flightHours: number }[] = [];
  months.forEach(({ month, landings, firstLanding }, index) => {
    const hours =
      flightHoursAfter(scenario.calendar, firstLanding + landings) -
      flightHoursAfter(scenario.calendar, firstLanding);
    const last = legs[legs.length - 1];
    if (last !== undefined && last.setup === setups[index]) {
      last.months.push(month);
      last.landings += landings;
      last.flightHours += hours;
    } else legs.push({ setup: setups[index]!, months: [month], landings, flightHours: hours });
  });
  return legs;
}

function planName(legs: readonly PlanLegFigures[]): string {
  if (legs.length === 1) return `${legs[0]!.setup} all season`;
  return legs.map(({ setup, months }) => `${setup} ${monthsText(months)}`).join(', ');
}

function monthsText(months: readonly string[]): string {
  const [first] = months;
  const last = months[months.length - 1];
  return first === last ? `in ${first!}` : `${first!} to ${last!}`;
}

function moneyOfPlan(
  { scenario }: CompiledFleetAirplane,
  { columns, extras }: SimulatedPlan,
  legs: readonly PlanLegFigures[],
): PlanMoney | null {
  const { expectedCost, happenedCost } = columns;
  if (expectedCost === null || happenedCost === null) return null;
  const hours = scenario.calendar.flightHoursPerYear;
  return {
    perSeason: meanWithInterval(expectedCost),
    perFlightHour: meanWithInterval(expectedCost.map((cost) => cost / hours)),
    ...highMoney(happenedCost),
    changes: extras.changeMoney,
    cruise: legs.reduce((sum, leg) => sum + cruiseMoney(scenario, leg), 0),
  };
}

function cruiseMoney(scenario: CompiledFleetAirplane['scenario'], leg: PlanLegFigures): number {
  const setup = scenario.setups.find(({ name }) => name === leg.setup)!;
  return cruiseMoneyOf(scenario.costs?.flightHour ?? 0, setup.cruiseLoss, leg.flightHours);
}
