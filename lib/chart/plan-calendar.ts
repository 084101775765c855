import type { AirplanePlans, FleetPlan } from '../decide/plan-types.js';
import { UsageError } from '../problems.js';
import { criterionUnit } from '../present/plan-words.js';
import { gearLegend, gearLooks } from './gear-sets.js';
import { nameLines, shortName } from './labels.js';
import { DIFFERENCE_PX, planDifferences } from './plan-differences.js';
import { drawnPlans, planCells, planLines, type DrawnPlan } from './plan-rows.js';
import { planDescription, planFinding } from './plan-calendar-words.js';
import { chartData, FAINT_INK, INK, makeChart, MOST_ROWS, type ChartPart, type ChartSpec } from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

const CELL_PX = 36;
const ROW_PX = 24;
/** Plans drawn of each kind of airplane, besides those without a change. */
const MOST_PLANS = 8;
/** Room for a line of a block title. */
const BLOCK_TITLE_PX = 640;

/**
 * Calendar of plans: months across, a row for each of the best plans and those without a change, cells in the colour and
 * with the letter of the gear set. Beside it how much more than the best each plan takes (money, days lost or flats of a
 * season), with its interval. One block for each kind of airplane.
 *
 * @param plan from `planSeason`.
 * @returns a chart of one row of data for each plan and month.
 * @throws UsageError if there is no plan, or if there are more airplanes than are drawn well.
 */
export function planCalendarChart(plan: FleetPlan): ChartSpec {
  const { airplanes } = plan;
  if (airplanes.length === 0) throw new UsageError('the plan has no airplane: nothing to draw');
  const looks = gearLooks(
    airplanes.flatMap(({ plans }) => plans.flatMap(({ legs }) => legs.map(({ setup }) => setup))),
  );
  const most = mostPlansWithin(airplanes);
  const finding = planFinding(plan);
  const shown = airplanes.map((plans) => drawnPlans(plans, most));
  const unit = criterionUnit(plan);
  const left = airplanes.reduce((sum, { plans }, index) => sum + plans.length - shown[index]!.length, 0);
  const words = {
    title: finding,
    subtitle: [
      'Dots: mean difference to the best plan on the same landings; bars: its 95 % interval (simulation error). Hollow: not told apart.',
      ...(left === 0 ? [] : [`${left} further plans are not drawn.`]),
      provenance(plan),
      CHART_CAUTION,
    ],
    description: planDescription(plan, finding),
  };
  const legend = gearLegend(looks);
  const chart = makeChart(words, legend.rows, {
    vconcat: [
      ...airplanes.map((plans, index) =>
        airplaneBlock(plans, shown[index]!, {
          cells: planCells(plans, shown[index]!, looks),
          lines: planLines(plan, shown[index]!),
          unit,
          colours: [...looks.values()].map(({ colour }) => colour),
        }),
      ),
      legend.spec,
    ],
    spacing: 22,
    resolve: { scale: { color: 'independent', x: 'independent', y: 'independent' } },
  });
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

/** Plans for each airplane that keep the chart within the rows that are drawn well. */
function mostPlansWithin(airplanes: readonly AirplanePlans[]): number {
  for (let most = MOST_PLANS; most > 1; most--) {
    const rows = airplanes.reduce((sum, { months, plans }) => {
      const drawn = plans.filter(({ changes }, index) => index < most || changes === 0).length;
      return sum + (months.length + 1) * (drawn + 1) + drawn;
    }, 0);
    if (rows <= MOST_ROWS - 50) return most;
  }
  return 1;
}

interface BlockData {
  readonly cells: ReturnType<typeof planCells>;
  readonly lines: ReturnType<typeof planLines>;
  /** Of what plans are chosen by. */
  readonly unit: string;
  readonly colours: readonly string[];
}

function airplaneBlock(
  { airplane, count, mix, months }: AirplanePlans,
  plans: readonly DrawnPlan[],
  { cells, lines, unit, colours }: BlockData,
): ChartPart {
  const places = [0, ...plans.map((_, index) => index + 1)];
  const labels = ['landings', ...plans.map(({ label }) => label)];
  const y = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: places },
    axis: {
      title: null,
      domain: false,
      ticks: false,
      aria: false,
      labelPadding: 8,
      labelExpr: `${JSON.stringify(labels)}[datum.value]`,
    },
  };
  const height = { step: ROW_PX };
  return {
    title: {
      text: nameLines(
        `${shortName(airplane, 60)}${count > 1 ? ` (${count} airplanes)` : ''}: ${mix}`,
        BLOCK_TITLE_PX,
        13,
      ),
      anchor: 'start',
      fontSize: 13,
      fontWeight: 600,
      offset: 8,
    },
    spacing: 14,
    hconcat: [
      {
        data: chartData(cells),
        width: { step: CELL_PX },
        height,
        ...calendar(
          months.map(({ month }) => month),
          y,
          colours,
        ),
      },
      {
        data: chartData(lines),
        width: DIFFERENCE_PX,
        height,
        ...planDifferences({ ...y, axis: null }, lines, unit),
      },
    ],
  };
}

/** Cells of gear sets by month; the first row counts landings. */
function calendar(months: readonly string[], y: ChartPart, colours: readonly string[]): ChartPart {
  const shortMonths = months.map((month) => month.slice(0, 3));
  const x = {
    field: 'monthPlace',
    type: 'ordinal',
    title: 'month',
    scale: { domain: months.map((_, place) => place) },
    axis: {
      orient: 'bottom',
      domain: false,
      ticks: false,
      labelAngle: 0,
      aria: false,
      labelExpr: `${JSON.stringify(shortMonths)}[datum.value]`,
    },
  };
  return {
    encoding: { x, y },
    layer: [
      {
        transform: [{ filter: 'datum.place > 0' }],
        mark: { type: 'rect', stroke: 'white', strokeWidth: 1.5 },
        encoding: {
          color: {
            field: 'gearPlace',
            type: 'ordinal',
            scale: { domain: colours.map((_, place) => place), range: colours },
            legend: null,
          },
          description: { field: 'said' },
          tooltip: [
            { field: 'setup', type: 'nominal', title: 'gear set' },
            { field: 'month', type: 'nominal', title: 'month' },
            { field: 'landingsText', type: 'nominal', title: 'flown' },
            { field: 'plan', type: 'nominal', title: 'plan' },
          ],
        },
      },
      {
        transform: [{ filter: 'datum.place > 0' }],
        mark: { type: 'text', fontSize: 12, aria: false },
        encoding: { text: { field: 'letter', type: 'nominal' } },
      },
      {
        transform: [{ filter: 'datum.place === 0' }],
        mark: { type: 'text', fontSize: 11, color: FAINT_INK },
        encoding: { text: { field: 'letter', type: 'nominal' }, description: { field: 'said' } },
      },
      {
        // A change of gear: a bar at the start of the month.
        transform: [{ filter: 'datum.changed' }],
        mark: {
          type: 'tick',
          orient: 'vertical',
          thickness: 4,
          size: ROW_PX,
          color: INK,
          xOffset: -CELL_PX / 2,
          aria: false,
        },
      },
    ],
  };
}
