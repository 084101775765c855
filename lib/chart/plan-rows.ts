import type { AirplanePlans, FleetPlan, PlanFigures } from '../decide/plan-types.js';
import { roundedText, signedSpan, signedText } from '../present/amounts.js';
import { shownPlans } from '../present/plan-table.js';
import { criterionFigure, criterionUnit, planText } from '../present/plan-words.js';
import { percentText } from '../present/words.js';
import type { GearLook } from './gear-sets.js';
import { counted } from './measures.js';
import type { ChartRow } from './spec.js';

/** A plan with a row of the calendar. */
export interface DrawnPlan {
  readonly figures: PlanFigures;
  /** Beside the row. */
  readonly label: string;
  /** Not told from the best one by the trials. */
  readonly open: boolean;
}

/**
 * Plans that are drawn, best first.
 *
 * @param plans of one kind of airplane.
 * @param most plans besides those without a change.
 */
export function drawnPlans(plans: AirplanePlans, most: number): readonly DrawnPlan[] {
  return shownPlans(plans, most).map((figures) => {
    const rank = plans.plans.indexOf(figures) + 1;
    const change = figures.changes === 0 ? 'no change' : counted(figures.changes, 'change');
    return {
      figures,
      label: rank === 1 ? `best, ${change}` : `${rank}, ${change}`,
      open: plans.notToldApart.length > 1 && plans.notToldApart.includes(figures.name),
    };
  });
}

/**
 * Cells of the calendar: one row for each plan and month, and one for the landings of each month.
 *
 * @param plans of one kind of airplane.
 * @param drawn which.
 * @param looks of the gear sets.
 */
export function planCells(
  { months }: AirplanePlans,
  drawn: readonly DrawnPlan[],
  looks: ReadonlyMap<string, GearLook>,
): ChartRow[] {
  const landings = months.map(({ month, landings: count, mayChange }, monthPlace) => ({
    place: 0,
    monthPlace,
    month,
    letter: String(count),
    changed: false,
    said: `${month}: ${counted(count, 'landing')}${mayChange ? '; gear may be changed' : ''}`,
  }));
  const cells = drawn.flatMap(({ figures }, index) =>
    figures.setupOfMonth.map((setup, monthPlace) => {
      const { month, landings: count } = months[monthPlace]!;
      const { place, letter } = looks.get(setup)!;
      const before = figures.setupOfMonth[(monthPlace || months.length) - 1];
      return {
        place: index + 1,
        monthPlace,
        month,
        setup,
        gearPlace: place,
        letter,
        changed: before !== setup,
        plan: planText(figures),
        landingsText: counted(count, 'landing'),
        said: `plan ${index + 1}, ${month}: ${setup}${before === setup ? '' : ', changed'}`,
      };
    }),
  );
  return [...landings, ...cells];
}

/**
 * Figures of the plans: one row each.
 *
 * @param plan of the fleet.
 * @param drawn which.
 */
export function planLines(plan: FleetPlan, drawn: readonly DrawnPlan[]): ChartRow[] {
  const unit = criterionUnit(plan);
  return drawn.map(({ figures, open }, index) => {
    const { versusBest, bestShare } = figures;
    const { estimate, standardError } = criterionFigure(figures, plan.criterion);
    const figure = roundedText(estimate, standardError);
    const isBest = index === 0;
    const more = signedText(versusBest.estimate, versusBest.standardError);
    const differenceText = isBest ? 'the best itself' : `${more} (${signedSpan(versusBest)}) ${unit}`;
    return {
      place: index + 1,
      difference: versusBest.estimate,
      lower: versusBest.lower,
      upper: versusBest.upper,
      open,
      isBest,
      plan: planText(figures),
      figure: `${figure} ${unit}`,
      text: isBest ? figure : `${figure} (${more})`,
      differenceText,
      bestIn: `${percentText(bestShare)} of seasons`,
      said: `plan ${index + 1}, ${planText(figures)}: ${figure} ${unit} a season, ${isBest ? 'the best' : `${differenceText} more than the best`}`,
    };
  });
}
