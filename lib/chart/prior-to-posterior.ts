import { fittedName, fittedRangeText } from '../calibrate/fit-names.js';
import type { AssumptionFit, FittedAssumption } from '../calibrate/posterior-types.js';
import {
  countStandings,
  errorSizesText,
  IMPLAUSIBLE_SCORE,
  type Standing,
  standingOf,
  STANDINGS,
  standingText,
} from '../calibrate/standing.js';
import { UsageError } from '../problems.js';
import { printable } from '../present/words.js';
import { rowHover } from './difference-axis.js';
import { priorScore } from './fit-scores.js';
import { fitProvenance, fitWarning, STANDING_LOOKS } from './fit-words.js';
import { LABEL_LINE_PX, mostLines, nameAxis, ROW_LABEL_PX, shortName } from './labels.js';
import { counted, rounded } from './measures.js';
import { FAINT_INK, INK, makeChart, type ChartPart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION } from './words.js';

const WIDTH_PX = 330;
const ROW_PX = 40;
/** Above and below the middle of a row: what was held before, and after. */
const APART_PX = 8;
const VERDICT_PX = 16;
const VALUES_PX = 168;
const MOST_NAMED = 3;
/** Scores further out are drawn at the edge, with a triangle that points out; their values stand beside. */
const FURTHEST = 5.2;
/** Room at both ends of the axis. */
const EDGE = 0.3;
/** Scores that are labelled, by the share of the prior below them. */
const TICKS: readonly (readonly [score: number, label: string])[] = [
  [-4.265, '0.001 %'],
  [-3.09, '0.1 %'],
  [-2.326, '1 %'],
  [-1.282, '10 %'],
  [0, '50 %'],
  [1.282, '90 %'],
  [2.326, '99 %'],
  [3.09, '99.9 %'],
  [4.265, '99.999 %'],
];
/** On a wide axis labels that would run into each other are left out. */
const WIDE = 3.1;
const LEFT_OUT_WHERE_WIDE: readonly string[] = ['1 %', '99 %'];
const WIDEST = 4.2;
const LEFT_OUT_WHERE_WIDEST: readonly string[] = ['0.1 %', '10 %', '90 %', '99.9 %'];

/**
 * Chart of what the records taught: for each fitted number the range that held 8 of 10 cases before the records and the one
 * that holds them now, with the medians, most learned first. All stand on one axis, the share of the prior that lies below
 * (%); values in natural units and the verdict stand beside.
 *
 * @param fit from `fitAssumptions`.
 * @returns a chart of one row of data for each number.
 * @throws UsageError if the records bear on nothing.
 */
export function priorToPosteriorChart(fit: AssumptionFit): ChartSpec {
  const { assumptions } = fit;
  if (assumptions.length === 0) {
    throw new UsageError('the records bear on no assumption of the scenario: nothing to draw');
  }
  const rows = assumptions.map((each, place) => rowOf(each, place, fit.probabilities));
  const surprising = rows.filter(({ score }) => Math.abs(score as number) > IMPLAUSIBLE_SCORE);
  const finding = findingOf(assumptions);
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        'Grey bar: the range that held 8 of 10 cases before the records, with its median; coloured bar and mark: the same after them.',
        'Learned: the spread is halved or better. Barely learned: it is still up to nine tenths. Not identified: the records hardly narrow it.',
        'Moved: the median shifted by at least the standard deviation that the scenario held.',
        ...surprisingWords(surprising.map(({ name }) => String(name))),
        ...fitWarning(fit),
        fitProvenance(fit),
        CHART_CAUTION,
      ],
      description: printable(
        `${counted(rows.length, 'number')} before and after the records. ${finding}. ${rows.map(({ said }) => `${String(said)}.`).join(' ')}`,
      ),
    },
    rows,
    panel(rows),
  );
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function findingOf(assumptions: readonly FittedAssumption[]): string {
  const { byStanding, assumptions: own, ofRecords } = countStandings(assumptions);
  const rest = [
    ['barely learned', 'barely'],
    ['moved, not narrowed', 'moved but not narrowed'],
    ['not identified', 'not identified'],
  ] as const;
  const told = rest.flatMap(([standing, word]) =>
    byStanding[standing] > 0 ? [`${byStanding[standing]} ${word}`] : [],
  );
  const head = [`${byStanding.learned} of ${counted(own, 'assumption')} learned`, ...told].join(', ');
  return ofRecords === 0 ? head : `${head}; also ${errorSizesText(ofRecords)}`;
}

function surprisingWords(names: readonly string[]): string[] {
  if (names.length === 0) return [];
  const told = names.slice(0, MOST_NAMED).map((name) => shortName(name, 40));
  const more = names.length > MOST_NAMED ? ` and ${names.length - MOST_NAMED} more` : '';
  return [`Far from what was held for plausible: ${told.join(', ')}${more}.`];
}

function rowOf(each: FittedAssumption, place: number, probabilities: readonly number[]): ChartRow {
  const { path, quantiles, median, priorMedian, reason, scoreDeviation } = each;
  const at = (values: readonly number[], probability: number): number =>
    values[probabilities.indexOf(probability)]!;
  const range = (values: readonly number[], middle: number): string =>
    fittedRangeText(path, middle, at(values, 0.1), at(values, 0.9));
  const score = (si: number): number => rounded(priorScore(each, probabilities, si), 3);
  const name = printable(fittedName(path));
  const [before, after] = [range(quantiles.prior, priorMedian), range(quantiles.posterior, median)];
  return {
    place,
    name,
    path,
    standing: standingOf(each),
    verdict: standingText(each),
    reason: printable(reason),
    priorLow: score(at(quantiles.prior, 0.1)),
    priorMiddle: score(priorMedian),
    priorHigh: score(at(quantiles.prior, 0.9)),
    low: score(at(quantiles.posterior, 0.1)),
    score: score(median),
    high: score(at(quantiles.posterior, 0.9)),
    before,
    after,
    beforeText: `before ${before}`,
    afterText: `after ${after}`,
    spread: `${Math.round(100 * Math.min(1, scoreDeviation))} % of that before`,
    said: `${name}: before ${before}, after ${after}, ${standingText(each)}`,
  };
}

function panel(rows: readonly ChartRow[]): ChartPart {
  const names = rows.map(({ name }) => String(name));
  // One number far out must not squeeze all others.
  const within = rows.filter(({ score }) => Math.abs(score as number) <= FURTHEST);
  const furthest = within.reduce(
    (most, { low, high }) => Math.max(most, Math.abs(low as number), Math.abs(high as number)),
    0,
  );
  const end = Math.min(FURTHEST, Math.max(2.6, furthest + 0.3));
  const left = end > WIDEST ? LEFT_OUT_WHERE_WIDEST : end > WIDE ? LEFT_OUT_WHERE_WIDE : [];
  const ticks = TICKS.filter(([score, label]) => Math.abs(score) <= end && !left.includes(label));
  const labels = Object.fromEntries(ticks.map(([score, label]) => [score.toString(), label]));
  const x = (field: string): ChartPart => ({
    field,
    type: 'quantitative',
    title: 'share of what the scenario held that lies below (%)',
    scale: { domain: [-end - EDGE, end + EDGE], nice: false },
    axis: {
      grid: true,
      gridColor: { condition: { test: 'datum.value === 0', value: '#888888' }, value: '#E6E6E6' },
      values: ticks.map(([score]) => score),
      labelExpr: `${JSON.stringify(labels)}[datum.value]`,
      labelFlush: false,
      description: 'share of the prior that lies below, from low at the left to high at the right',
    },
  });
  return {
    width: WIDTH_PX,
    height: { step: Math.max(ROW_PX, LABEL_LINE_PX * mostLines(names, ROW_LABEL_PX) + 8) },
    encoding: {
      y: {
        field: 'place',
        type: 'ordinal',
        scale: { domain: rows.map((_, place) => place) },
        axis: nameAxis(names),
      },
    },
    layer: [
      {
        mark: { type: 'rule', color: '#9E9E9E', strokeWidth: 6, yOffset: -APART_PX, aria: false },
        encoding: { x: x('priorLow'), x2: { field: 'priorHigh' } },
      },
      {
        mark: { type: 'tick', color: INK, thickness: 2, height: 11, yOffset: -APART_PX, aria: false },
        encoding: { x: x('priorMiddle') },
      },
      ...STANDINGS.flatMap((standing) => standingLayers(standing, x, end)),
      ...figures(),
      rowHover(WIDTH_PX, [
        { field: 'name', type: 'nominal', title: 'number' },
        { field: 'path', type: 'nominal', title: 'place in the scenario' },
        { field: 'before', type: 'nominal', title: 'before the records (8 of 10)' },
        { field: 'after', type: 'nominal', title: 'after them (8 of 10)' },
        { field: 'verdict', type: 'nominal', title: 'verdict' },
        { field: 'reason', type: 'nominal', title: 'why' },
        { field: 'spread', type: 'nominal', title: 'spread' },
      ]),
    ],
  };
}

/** Bar and mark of the numbers of one standing, and the same mark before its word. */
function standingLayers(standing: Standing, x: (field: string) => ChartPart, end: number): ChartPart[] {
  const { shape, colour, filled } = STANDING_LOOKS[standing];
  const transform = [{ filter: `datum.standing === '${standing}'` }];
  const point = {
    type: 'point',
    shape,
    size: 75,
    filled: true,
    fill: filled ? colour : 'white',
    stroke: colour,
    strokeWidth: 1.6,
    opacity: 1,
    aria: false,
  };
  return [
    {
      transform: [
        ...transform,
        { calculate: `clamp(datum.low, ${-end}, ${end})`, as: 'from' },
        { calculate: `clamp(datum.high, ${-end}, ${end})`, as: 'to' },
      ],
      mark: { type: 'rule', color: colour, opacity: 0.55, strokeWidth: 6, yOffset: APART_PX, aria: false },
      encoding: { x: x('from'), x2: { field: 'to' } },
    },
    {
      transform: [...transform, { filter: `abs(datum.score) <= ${end}` }],
      mark: { ...point, yOffset: APART_PX },
      encoding: { x: x('score') },
    },
    ...(['left', 'right'] as const).map((side) => ({
      // Off the scale: a triangle at the edge points out.
      transform: [
        ...transform,
        { filter: side === 'left' ? `datum.score < ${-end}` : `datum.score > ${end}` },
      ],
      mark: { ...point, shape: `triangle-${side}`, fill: colour, yOffset: APART_PX },
      encoding: { x: { datum: side === 'left' ? -end : end } },
    })),
    { transform, mark: point, encoding: { x: { value: WIDTH_PX + VERDICT_PX } } },
  ];
}

/** The verdict in a word, and the values before and after, right of the plot. */
function figures(): ChartPart[] {
  const text = (field: string, px: number, more: ChartPart): ChartPart => ({
    mark: { type: 'text', align: 'left', aria: false, fontSize: 11.5, color: INK, ...more },
    encoding: { x: { value: px }, text: { field, type: 'nominal' } },
  });
  return [
    text('verdict', WIDTH_PX + VERDICT_PX + 10, {}),
    text('beforeText', WIDTH_PX + VALUES_PX, { yOffset: -APART_PX, color: FAINT_INK }),
    text('afterText', WIDTH_PX + VALUES_PX, { yOffset: APART_PX }),
  ];
}
