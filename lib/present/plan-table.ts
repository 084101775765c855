import type { AirplanePlans, BreakEven, FleetPlan, PlanFigures } from '../decide/plan-types.js';
import {
  amountText,
  countedText,
  quantileText,
  roundedSpan,
  roundedText,
  signedSpan,
  signedText,
  wholeText,
} from './amounts.js';
import { decisionText } from './decision-text.js';
import { grid, type GridColumn } from './grid.js';
import { bestStaying, criterionFigure, criterionUnit, planAnswers, planText } from './plan-words.js';
import { TABLE_WIDTH } from './table.js';
import { figureText, percentText, printable, wrap } from './words.js';

/** Plans shown of each kind of airplane, besides those without a change. */
const MOST_SHOWN = 8;

/**
 * Plans of a fleet as text of at most 100 columns: the answer, then the plans of each kind of airplane, best first.
 *
 * @param plan from `planSeason`.
 * @returns text ending without a line end.
 */
export function planTable(plan: FleetPlan): string {
  return decisionText(plan, {
    answers: [...planAnswers(plan), fleetText(plan)],
    blocks: plan.airplanes.flatMap((plans) => airplaneBlocks(plan, plans)),
    legend: [
      `Plans are chosen by ${criterionUnit(plan)} of a season, one airplane each. More than the best: paired difference ` +
        'on the same landings, with its 95 % interval (simulation error). Best in: share of seasons in which no plan ' +
        'came out better, luck and ignorance together; the mean also counts how bad the others are.',
      'A season begins on new tires; tires of a set that is off keep their wear. The year repeats, so both changes are paid.',
      ...(plan.needs === null ? [] : [`Money not checked: ${plan.needs}.`]),
    ],
    cautions: [],
  });
}

/** The whole fleet on its best plans. */
function fleetText({ totals: { airplanes, money, flats, daysLost }, currency }: FleetPlan): string {
  const risk =
    `${roundedText(flats.estimate, flats.standardError)} flats and ` +
    `${roundedText(daysLost.estimate, daysLost.standardError)} days lost a season`;
  const fleet = `Fleet of ${countedText(airplanes, 'airplane')} on the best plans: `;
  if (money === null) return `${fleet}${risk}.`;
  const { perSeason, p90, worstTenth } = money;
  return (
    `${fleet}${roundedText(perSeason.estimate, perSeason.standardError)} ${currency ?? ''} a season as expected ` +
    `(95 %: ${roundedSpan(perSeason)}); nine seasons in ten stay below ${quantileText(p90)}, the worst tenth cost ` +
    `${roundedText(worstTenth.estimate, worstTenth.standardError)} on average; ${risk}.`
  );
}

function airplaneBlocks(plan: FleetPlan, plans: AirplanePlans): string[] {
  const { airplane, count, mix, search } = plans;
  const shown = shownPlans(plans, MOST_SHOWN);
  const left = plans.plans.length - shown.length;
  const unit = criterionUnit(plan);
  const columns: GridColumn[] = [
    { title: ['plan'], align: 'left', width: 31, wraps: true },
    { title: [unit, 'a season'], align: 'right', width: 12 },
    { title: ['more than', 'the best', '(95 %)'], align: 'right', width: 25, wraps: true },
    { title: ['flats'], align: 'right', width: 6 },
    { title: ['days', 'lost'], align: 'right', width: 6 },
    { title: ['best in'], align: 'right', width: 8 },
  ];
  const block = [
    wrap(printable(`${airplane} (${countedText(count, 'airplane')}), ${mix}: ${search}`), TABLE_WIDTH, '  '),
    '',
    grid(
      columns,
      shown.map((each) => planRow(plan, each)),
    ),
    ...(left > 0 ? [`${left} more plans in the JSON`] : []),
  ].join('\n');
  const extra = [moneyBlock(plan, plans), breakEvenBlock(plans)].filter((text) => text !== null);
  return [block, ...extra];
}

/**
 * The best plans, and those without a change whatever their place.
 *
 * @param plans of one kind of airplane.
 * @param most plans besides those without a change.
 */
export function shownPlans({ plans }: AirplanePlans, most: number): readonly PlanFigures[] {
  return plans.filter(({ changes }, index) => index < most || changes === 0);
}

function planRow(plan: FleetPlan, figures: PlanFigures): string[] {
  const { estimate, standardError } = criterionFigure(figures, plan.criterion);
  const { versusBest, flats, daysLost, bestShare } = figures;
  return [
    planText(figures),
    roundedText(estimate, standardError),
    versusBest.estimate === 0 && versusBest.standardError === 0
      ? 'best'
      : `${signedText(versusBest.estimate, versusBest.standardError)} (${signedSpan(versusBest).replaceAll('+', '')})`,
    figureText(flats.estimate),
    figureText(daysLost.estimate),
    percentText(bestShare),
  ];
}

/** Money of the best plan and of the best without a change. */
function moneyBlock({ currency }: FleetPlan, plans: AirplanePlans): string | null {
  const staying = bestStaying(plans);
  const compared = [plans.plans[0]!, ...(staying === null || staying === plans.plans[0] ? [] : [staying])];
  const rows = compared.flatMap((each) => {
    const { money } = each;
    if (money === null) return [];
    const { perSeason, perFlightHour, p90, worstTenth, changes, cruise } = money;
    return [
      [
        planText(each),
        roundedText(perSeason.estimate, perSeason.standardError),
        quantileText(p90),
        roundedText(worstTenth.estimate, worstTenth.standardError),
        figureText(perFlightHour.estimate),
        amountText(changes),
        amountText(cruise),
      ],
    ];
  });
  if (rows.length === 0) return null;
  const unit = currency ?? '';
  return grid(
    [
      { title: [`money, ${unit}`], align: 'left', width: 36, wraps: true },
      { title: ['a season,', 'expected'], align: 'right', width: 9 },
      { title: ['9 in 10', 'below'], align: 'right', width: 8 },
      { title: ['worst', 'tenth'], align: 'right', width: 8 },
      { title: ['a flight', 'hour'], align: 'right', width: 8 },
      { title: ['changes'], align: 'right', width: 8 },
      { title: ['slower', 'flight'], align: 'right', width: 8 },
    ],
    rows,
  );
}

function breakEvenBlock({ breakEvens }: AirplanePlans): string | null {
  if (breakEvens.length === 0) return null;
  return grid(
    [
      { title: ['best plan with changes', 'against'], align: 'left', width: 31, wraps: true },
      { title: ['saves a season', '(95 %)'], align: 'right', width: 27, wraps: true },
      { title: ['landings', 'on others'], align: 'right', width: 9 },
      { title: ['pays from landings', '(95 %)'], align: 'right', width: 27 },
    ],
    breakEvens.map(({ staying, saving, otherLandings, payFrom }) => [
      `${staying} all season`,
      `${roundedText(saving.estimate, saving.standardError)} (${signedSpan(saving)})`,
      wholeText(otherLandings),
      payFromText(payFrom),
    ]),
  );
}

function payFromText(payFrom: BreakEven['payFrom']): string {
  if (payFrom === null) return 'not told by trials';
  const { estimate, lower, upper } = payFrom;
  return `${wholeText(estimate)} (${wholeText(lower)}-${wholeText(upper)})`;
}
