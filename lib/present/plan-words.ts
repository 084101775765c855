import type { PairedDifference } from '../estimate/paired.js';
import type { AirplanePlans, BreakEven, FleetPlan, PlanFigures } from '../decide/plan-types.js';
import { percentText } from './words.js';
import { countedText, roundedSpan, roundedText, signedSpan, wholeText } from './amounts.js';

/** What plans are told apart by: "credits", "days lost", "flats". */
export function criterionUnit({ criterion, currency }: Pick<FleetPlan, 'criterion' | 'currency'>): string {
  if (criterion === 'cost') return currency ?? 'money';
  return criterion === 'daysLost' ? 'days lost' : 'flats';
}

/** The figure of a plan that plans are chosen by, of one airplane in one season. */
export function criterionFigure(
  { money, flats, daysLost }: PlanFigures,
  criterion: FleetPlan['criterion'],
): PlanFigures['flats'] {
  if (criterion === 'cost' && money !== null) return money.perSeason;
  return criterion === 'daysLost' ? daysLost : flats;
}

/**
 * What is done in a plan: "rigid 29 in May, back to faired in October"; the year repeats, so the set of the first month
 * may have to be put on again.
 */
export function changesText({ legs }: PlanFigures): string {
  const first = legs[0]!;
  const last = legs[legs.length - 1]!;
  if (legs.length === 1) return `${first.setup} all season`;
  const changes = legs.flatMap(({ setup, months }, index) => {
    const before = index === 0 ? last : legs[index - 1]!;
    if (before.setup === setup) return [];
    return [`${setup} in ${months[0]!}`];
  });
  // Begins where the set of the first month is left, as a reader of a calendar does.
  const ordered = first.setup === last.setup ? changes : [...changes.slice(1), changes[0]!];
  const lastChange = ordered.pop()!;
  const back = lastChange.startsWith(`${first.setup} in `) ? 'back to' : 'to';
  return `to ${[...ordered, ''].join(', to ').slice(0, -', to '.length)} and ${back} ${lastChange}`;
}

/** A plan in a few words for a row: the changes, or the set that stays on. */
export function planText(plan: PlanFigures): string {
  return plan.legs.length === 1 ? changesText(plan) : `change ${changesText(plan)}`;
}

/** The best plan without a change; null if a change is made in all of them. */
export function bestStaying({ plans }: AirplanePlans): PlanFigures | null {
  return plans.find(({ changes }) => changes === 0) ?? null;
}

/** How sure it is whether to change gear sets at all. */
export type PlanCall = 'only one set' | 'change' | 'stay' | 'too close';

/** Whether changing gear sets is better than the best set on all season. */
export function callOf(plans: AirplanePlans): PlanCall {
  const contest = contestOf(plans);
  if (contest === null) return 'only one set';
  if (contest.saving.lower > 0) return 'change';
  return contest.saving.upper < 0 ? 'stay' : 'too close';
}

/** The best plan with changes against the best set that stays on; null if there is nothing to choose. */
export function contestOf(plans: AirplanePlans): BreakEven | null {
  const staying = bestStaying(plans);
  return plans.breakEvens.find((one) => one.staying === staying?.legs[0]!.setup) ?? null;
}

/**
 * The answer for each kind of airplane, a sentence or two each.
 *
 * @param plan of the fleet.
 */
export function planAnswers(plan: FleetPlan): string[] {
  return plan.airplanes.map((plans) => {
    const many = plan.airplanes.length > 1 || plans.count > 1;
    return `${many ? `${plans.airplane} (${countedText(plans.count, 'airplane')}): ` : ''}${planAnswer(plan, plans)}`;
  });
}

/** The answer for one kind of airplane. */
export function planAnswer(plan: FleetPlan, plans: AirplanePlans): string {
  const unit = criterionUnit(plan);
  const best = plans.plans[0]!;
  const each = plans.count > 1 ? ' for each airplane' : '';
  const figure = (of: PlanFigures): string => {
    const { estimate, standardError } = criterionFigure(of, plan.criterion);
    return `${roundedText(estimate, standardError)} ${unit} a season${each}`;
  };
  const contest = contestOf(plans);
  if (contest === null) return `${planText(best)}: ${figure(best)}.`;
  const { saving, withChanges } = contest;
  const staying = bestStaying(plans)!;
  const changing = plans.plans.find(({ name }) => name === withChanges)!;
  switch (callOf(plans)) {
    case 'change':
      return (
        `Change ${changesText(changing)}: ${figure(changing)}, ${lessText(saving)} less than ${planText(staying)}` +
        `${paysText(contest, changing)}.${usualText(plans)}${closeText(plans)}`
      );
    case 'stay':
      return (
        `Stay on ${planText(staying)}: ${figure(staying)}, ` +
        `${lessText({ ...saving, estimate: -saving.estimate, lower: -saving.upper, upper: -saving.lower })} ` +
        `less than the best plan with a change (${changesText(changing)})${paysText(contest, changing)}.${usualText(plans)}`
      );
    default:
      return (
        `Too close to tell: ${planText(best)} comes out best, ${figure(best)}, but a change ${changesText(changing)} ` +
        `${closeCall(saving, unit)} than ${planText(staying)}: run more trials, or take what suits you.`
      );
  }
}

/** A saving that may be a loss. */
function closeCall(saving: PairedDifference, unit: string): string {
  const { estimate, lower, upper } = saving;
  const [more, span] =
    estimate >= 0 ? ['less', saving] : ['more', { ...saving, lower: -upper, upper: -lower }];
  const amount = roundedText(Math.abs(estimate), saving.standardError);
  return `takes ${amount} ${unit} ${more} (95 %: ${signedSpan(span)})`;
}

function lessText(saving: PairedDifference): string {
  return `${roundedText(saving.estimate, saving.standardError)} (95 %: ${roundedSpan(saving)})`;
}

/** From when changes pay; empty where the trials do not tell. */
function paysText({ payFrom, otherLandings, saving, staying }: BreakEven, changing: PlanFigures): string {
  if (payFrom === null || payFrom.estimate <= 0) return '';
  const pays = saving.estimate > 0 ? 'pays' : 'would pay';
  return `; it ${pays} from ${countedText(Math.round(payFrom.estimate), 'landing')} ${otherSets(changing, staying)}, you fly ${wholeText(otherLandings)}`;
}

/** Gear sets of a plan besides one: "on rigid 29 deep". */
function otherSets({ legs }: PlanFigures, staying: string): string {
  const sets = [...new Set(legs.map(({ setup }) => setup))].filter((setup) => setup !== staying);
  return sets.length === 1 ? `on ${sets[0]!}` : 'on the other sets';
}

/** What most seasons would say, where it is not what the mean says. */
function usualText({ plans }: AirplanePlans): string {
  const usual = plans.reduce((a, b) => (b.bestShare > a.bestShare ? b : a));
  if (usual === plans[0] || usual.bestShare <= 0.5) return '';
  return ` In ${percentText(usual.bestShare)} of seasons ${planText(usual)} comes out best; bad seasons decide the mean.`;
}

/** Other plans with changes that the trials do not tell from the best one. */
function closeText({ notToldApart }: AirplanePlans): string {
  const others = notToldApart.length - 1;
  if (others <= 0) return '';
  return ` ${others === 1 ? 'One other plan comes' : `${others} other plans come`} as close as the trials can tell.`;
}
