import type { SpareStock } from '../decide/spares.js';
import { UsageError } from '../problems.js';
import type { SparesCase } from '../decide/stock-cases.js';
import { airplanesText, itemName, sparesAnswer } from '../present/spares-words.js';
import { percentText, printable } from '../present/words.js';
import { LABEL_LINE_PX, nameLines } from './labels.js';
import { counted } from './measures.js';
import {
  chartData,
  COLOURS,
  FAINT_INK,
  INK,
  makeChart,
  type ChartPart,
  type ChartRow,
  type ChartSpec,
} from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

const WIDTH_PX = 230;
const HEIGHT_PX = 120;
const COLUMNS = 2;
/** Units drawn beyond the stock that is chosen. */
const STEPS_BEYOND = 3;
/** Where the stock is large, small ones are left out. */
const MOST_STEPS = 40;
const MOST_TICKS = 8;

/**
 * Chart of what each number of spares does: chance that nobody waits in the season (%) against units in stock, a panel
 * for each item, with the wanted service and the smallest stock that gives it.
 *
 * @param cases from `gravelbar spares`: airplanes and their stock.
 * @param run trials and seed.
 * @returns a chart of a few rows of data for each item.
 * @throws UsageError if no item is asked for.
 */
export function sparesChart(
  cases: readonly SparesCase[],
  run: { readonly trials: number; readonly seed: string },
): ChartSpec {
  const panels = cases.flatMap((each) =>
    each.spares.items.map((item) => ({ of: each, item, spec: panel(each, item, cases.length > 1) })),
  );
  if (panels.length === 0) throw new UsageError('no spare is ever asked for: nothing to draw');
  const finding = findingOf(cases);
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        'Dots: share of simulated seasons in which the stock is enough; bars: 95 % interval (simulation error). Filled: the stock to keep.',
        'Dotted upright: what the Poisson spares formula would keep.',
        provenance(run),
        CHART_CAUTION,
      ],
      description: printable(
        `Service against stock for ${counted(panels.length, 'item')}. ${finding}. ${cases.map(sparesAnswer).join(' ')}`,
      ),
    },
    [],
    { columns: COLUMNS, spacing: 26, concat: panels.map(({ spec }) => spec) },
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function findingOf(cases: readonly SparesCase[]): string {
  const tires = ({ spares }: SparesCase): number =>
    spares.items.filter(({ kind }) => kind === 'tire').reduce((sum, { stock }) => sum + stock, 0);
  const level = percentText(cases[0]!.spares.serviceLevel);
  const counts = cases.map(tires);
  const [least, most] = [Math.min(...counts), Math.max(...counts)];
  const range = least === most ? counted(most, 'spare tire') : `${least} to ${counted(most, 'spare tire')}`;
  const whose = cases.length === 1 ? airplanesText(cases[0]!.airplanes) : 'depending on the gear set';
  return `${range} for ${level} service, ${whose}`;
}

function panel({ airplanes, spares }: SparesCase, item: SpareStock, several: boolean): ChartPart {
  const { serviceLevel } = spares;
  const last = Math.max(item.stock, item.ifPoisson.stock) + STEPS_BEYOND;
  const first = Math.max(0, Math.min(last - MOST_STEPS, item.stock - 2, item.ifPoisson.stock - 2));
  const name = itemName(item);
  const rows: ChartRow[] = item.steps
    .filter(({ stock }) => stock >= first && stock <= last)
    .map(({ stock, service }) => ({
      stock,
      service: service.estimate,
      lower: service.lower,
      upper: service.upper,
      chosen: stock === item.stock,
      poisson: stock === item.ifPoisson.stock,
      serviceText: percentText(service.estimate),
      errorText: `${percentText(service.lower)} to ${percentText(service.upper)}`,
      said: `${name}: with ${stock} in stock nobody waits in ${percentText(service.estimate)} of seasons${stock === item.stock ? ', the stock to keep' : ''}`,
    }));
  const x = {
    field: 'stock',
    type: 'quantitative',
    title: 'units in stock (number)',
    scale: { domain: [first - 0.4, (rows[rows.length - 1]?.stock as number) + 0.4], nice: false },
    axis: {
      grid: false,
      tickMinStep: 1,
      format: 'd',
      values: wholeTicks(first, rows[rows.length - 1]?.stock as number),
    },
  };
  const y = {
    field: 'service',
    type: 'quantitative',
    title: 'nobody waits (% of seasons)',
    scale: { domain: [0, 1] },
    axis: { format: '.0%', tickCount: 3 },
  };
  const whose = several ? [airplanesText(airplanes)] : [];
  return {
    data: chartData(rows),
    width: WIDTH_PX,
    height: HEIGHT_PX,
    title: {
      text: [name, ...whose].flatMap((line) => nameLines(line, WIDTH_PX + 40)),
      anchor: 'start',
      frame: 'group',
      fontSize: 12,
      lineHeight: LABEL_LINE_PX,
      fontWeight: 600,
      offset: 6,
    },
    layer: [
      {
        data: chartData([{ level: serviceLevel, text: `wanted ${percentText(serviceLevel)}` }]),
        mark: { type: 'rule', color: COLOURS.vermilion, strokeDash: [5, 3], aria: false },
        encoding: { y: { ...y, field: 'level' } },
      },
      {
        transform: [{ filter: 'datum.poisson' }],
        // On the stock alone: its service is that of the dot there.
        mark: { type: 'rule', color: COLOURS.orange, strokeWidth: 2, strokeDash: [2, 3], aria: false },
        encoding: { x },
      },
      {
        mark: { type: 'rule', color: INK, strokeWidth: 1.5, aria: false },
        encoding: { x, y: { ...y, field: 'lower' }, y2: { field: 'upper' } },
      },
      {
        mark: {
          type: 'point',
          filled: true,
          size: 60,
          opacity: 1,
          stroke: COLOURS.blue,
          strokeWidth: 1.5,
          fill: { expr: `datum.chosen ? '${COLOURS.blue}' : 'white'` },
        },
        encoding: {
          x,
          y,
          description: { field: 'said' },
          tooltip: [
            { field: 'stock', title: 'in stock' },
            { field: 'serviceText', title: 'nobody waits in' },
            { field: 'errorText', title: 'simulation error, 95 %' },
          ],
        },
      },
      {
        transform: [{ filter: 'datum.chosen' }],
        mark: {
          type: 'text',
          align: 'left',
          dx: 8,
          dy: 12,
          fontWeight: 'bold',
          color: FAINT_INK,
          aria: false,
        },
        encoding: { x, y, text: { value: `keep ${item.stock}` } },
      },
    ],
  };
}

/** Ticks at whole numbers, not too many. */
function wholeTicks(first: number, last: number): number[] {
  const step = [1, 2, 5, 10, 20, 50, 100].find((each) => (last - first) / each <= MOST_TICKS) ?? 200;
  const start = Math.ceil(first / step);
  return Array.from({ length: Math.floor(last / step) - start + 1 }, (_, index) => (start + index) * step);
}
