import type { FleetPlan } from '../decide/plan-types.js';
import { roundedText } from '../present/amounts.js';
import {
  bestStaying,
  callOf,
  changesText,
  contestOf,
  criterionUnit,
  planAnswer,
  planText,
} from '../present/plan-words.js';
import { printable } from '../present/words.js';
import { shortName } from './labels.js';

/** Airplanes told in the title, and in the description. */
const MOST_TITLED = 2;
const MOST_DESCRIBED = 12;

/**
 * The finding of a calendar of plans, in a sentence.
 *
 * @param plan of the fleet.
 */
export function planFinding(plan: FleetPlan): string {
  const { airplanes } = plan;
  if (airplanes.length <= MOST_TITLED) {
    return airplanes.map((_, index) => airplaneFinding(plan, index)).join('; ');
  }
  const calls = airplanes.map(callOf);
  const count = (call: string): number => calls.filter((each) => each === call).length;
  const parts = [
    [count('change'), 'should change gear'],
    [count('stay') + count('only one set'), 'should stay on one set'],
    [count('too close'), 'are too close to tell'],
  ] as const;
  const told = parts.filter(([number]) => number > 0).map(([number, does]) => `${number} ${does}`);
  return `Of ${airplanes.length} kinds of airplanes ${told.join(', ')}`;
}

function airplaneFinding(plan: FleetPlan, index: number): string {
  const plans = plan.airplanes[index]!;
  const unit = criterionUnit(plan);
  const name = plan.airplanes.length === 1 ? '' : `${shortName(plans.airplane, 24)}: `;
  const contest = contestOf(plans);
  const best = plans.plans[0]!;
  const staying = bestStaying(plans);
  if (contest === null || staying === null) return `${name}${planText(best)}`;
  const { saving } = contest;
  const amount = roundedText(Math.abs(saving.estimate), saving.standardError);
  const changing = plans.plans.find(({ name: each }) => each === contest.withChanges)!;
  switch (callOf(plans)) {
    case 'change':
      return `${name}a change ${changesText(changing)} saves ${amount} ${unit} a season`;
    case 'stay':
      return `${name}${planText(staying)} beats every change by ${amount} ${unit} or more`;
    default:
      return `${name}too close to tell whether a change pays`;
  }
}

/**
 * The calendar in words, with its main figures.
 *
 * @param plan of the fleet.
 * @param finding its title.
 */
export function planDescription(plan: FleetPlan, finding: string): string {
  const told = plan.airplanes
    .slice(0, MOST_DESCRIBED)
    .map((plans) => `${plans.airplane}, ${plans.plans.length} plans: ${planAnswer(plan, plans)}`);
  return printable(
    `Calendar of gear sets by month for the best plans of ${plan.airplanes.length} kinds of airplanes. ${finding}. ${told.join(' ')}`,
  );
}
