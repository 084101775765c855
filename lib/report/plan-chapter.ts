import { AUTHORITY } from '../cautions.js';
import { planCalendarChart } from '../chart/plan-calendar.js';
import { planSeason } from '../decide/plan-season.js';
import type { AirplanePlans, BreakEven, FleetPlan, PlanFigures } from '../decide/plan-types.js';
import {
  amountText,
  countedText,
  quantileText,
  roundedSpan,
  roundedText,
  signedSpan,
  signedText,
} from '../present/amounts.js';
import { shownPlans } from '../present/plan-table.js';
import { criterionFigure, criterionUnit, planAnswers, planText } from '../present/plan-words.js';
import { capitalized, figureText, percentText } from '../present/words.js';
import type { Scenario } from '../scenario/schema/index.js';
import type { Chapter, CollectOptions } from './chapter.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

/** Plans in a table besides those without a change. */
const MOST_SHOWN = 5;

/**
 * The chapter on gear sets through the season: which set in which month, for every airplane of the fleet.
 *
 * @param scenario a scenario with a fleet.
 * @param trials number of trials.
 * @param options progress and stop.
 * @throws as `planSeason`.
 */
export async function planChapter(
  scenario: Scenario,
  trials: number,
  { onProgress, signal }: CollectOptions,
): Promise<Chapter> {
  const plan = await planSeason(scenario, { trials, onProgress, signal });
  return {
    id: 'plan',
    title: 'Gear sets through the season',
    answers: planAnswers(plan),
    cautions: [AUTHORITY.message],
    tables: [...plan.airplanes.map((plans) => airplaneTables(plan, plans)), fleetTable(plan)],
    chart: () => planCalendarChart(plan),
    notes: [
      `Plans are chosen by ${criterionUnit(plan)} of a season. More than the best: paired difference on the same landings, ` +
        'with its 95 % interval (simulation error). Best in: share of the seasons in which no plan came out better, luck and ' +
        'ignorance together; the mean also counts how bad the others are.',
      'A season begins on new tires; tires of a set that is off keep their wear. The year repeats, so both changes are paid.',
      ...(plan.needs === null ? [] : [`Money is ${plan.needs}.`]),
    ],
  };
}

function airplaneTables(plan: FleetPlan, plans: AirplanePlans): Html {
  const { airplane, count, mix, search, breakEvens } = plans;
  const unit = criterionUnit(plan);
  const columns: Column<PlanFigures>[] = [
    { title: 'Plan', cell: planText },
    {
      title: html`A season, expected <small>${unit}</small>`,
      cell: (figures) => {
        const { estimate, standardError } = criterionFigure(figures, plan.criterion);
        return roundedText(estimate, standardError);
      },
      isNumeric: true,
    },
    {
      title: html`More than the best <small>95 %</small>`,
      cell: ({ versusBest }) =>
        versusBest.estimate === 0 && versusBest.standardError === 0
          ? 'best'
          : html`${signedText(versusBest.estimate, versusBest.standardError)}
              <small>${signedSpan(versusBest)}</small>`,
      isNumeric: true,
    },
    ...moneyColumns(plan),
    { title: 'Flats', cell: ({ flats }) => figureText(flats.estimate), isNumeric: true },
    { title: 'Days lost', cell: ({ daysLost }) => figureText(daysLost.estimate), isNumeric: true },
    { title: 'Best in', cell: ({ bestShare }) => percentText(bestShare), isNumeric: true },
  ];
  const shown = shownPlans(plans, MOST_SHOWN);
  const left = plans.plans.length - shown.length;
  return html`<h3>${airplane}${count > 1 ? ` (${count} airplanes)` : ''} on ${mix}</h3>
    ${table(columns, shown, { caption: `Plans for each ${airplane}${plans.notToldApart.length > 1 ? '; marked: not told apart from the best' : ''}`, leads: ({ name }) => plans.notToldApart.includes(name) })}
    <p class="soft">${capitalized(search)}${left > 0 ? `; ${left} of them are not shown` : ''}.</p>
    ${breakEvens.length === 0 ? '' : breakEvenTable(plan, plans)}`;
}

function moneyColumns({ needs }: FleetPlan): Column<PlanFigures>[] {
  if (needs !== null) return [];
  return [
    {
      title: '9 seasons in 10 below',
      cell: ({ money }) => (money === null ? '-' : quantileText(money.p90)),
      isNumeric: true,
    },
    {
      title: 'Worst tenth, mean',
      cell: ({ money }) =>
        money === null ? '-' : roundedText(money.worstTenth.estimate, money.worstTenth.standardError),
      isNumeric: true,
    },
  ];
}

function breakEvenTable(plan: FleetPlan, { airplane, breakEvens }: AirplanePlans): Html {
  const columns: Column<BreakEven>[] = [
    { title: 'Against', cell: ({ staying }) => `${staying} all season` },
    {
      title: html`Saves a season <small>${criterionUnit(plan)}, 95 %</small>`,
      cell: ({ saving }) =>
        html`${roundedText(saving.estimate, saving.standardError)} <small>${signedSpan(saving)}</small>`,
      isNumeric: true,
    },
    {
      title: 'Landings on other sets',
      cell: ({ otherLandings }) => Math.round(otherLandings).toLocaleString('en-US'),
      isNumeric: true,
    },
    {
      title: html`Pays from landings <small>95 %</small>`,
      cell: ({ payFrom }) =>
        payFrom === null
          ? 'not told by trials'
          : html`${amountText(payFrom.estimate)}
              <small>${amountText(payFrom.lower)} to ${amountText(payFrom.upper)}</small>`,
      isNumeric: true,
    },
  ];
  return table(columns, breakEvens, {
    caption: `When changing sets pays for each ${airplane}: best plan with changes`,
  });
}

interface Total {
  readonly what: string;
  readonly expected: string;
  readonly span: string;
}

/** The whole fleet on its best plans. */
function fleetTable({ totals: { airplanes, money, flats, daysLost }, currency }: FleetPlan): Html {
  const mean = (what: string, figure: FleetPlan['totals']['flats']): Total => ({
    what,
    expected: roundedText(figure.estimate, figure.standardError),
    span: roundedSpan(figure),
  });
  const rows: Total[] = [
    ...(money === null
      ? []
      : [
          mean(`${currency ?? 'Money'}, expected`, money.perSeason),
          {
            what: `${currency ?? 'Money'}, 9 seasons in 10 below`,
            expected: quantileText(money.p90),
            span: '-',
          },
          mean(`${currency ?? 'Money'}, mean of the worst tenth`, money.worstTenth),
        ]),
    mean('Flats, expected', flats),
    mean('Days lost, expected', daysLost),
  ];
  const columns: Column<Total>[] = [
    { title: 'A season', cell: ({ what }) => what },
    { title: 'Whole fleet', cell: ({ expected }) => expected, isNumeric: true },
    { title: '95 %', cell: ({ span }) => span, isNumeric: true },
  ];
  return table(columns, rows, {
    caption: `The fleet of ${countedText(airplanes, 'airplane')} on the best plans`,
  });
}
