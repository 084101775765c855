import { roundedEstimate, unitText } from '../present/drivers-words.js';
import type { MeasuringVerdict, ValueOfInformation } from '../sensitivity/voi-types.js';
import { rowFigures, rowHover } from './difference-axis.js';
import {
  lineLabel,
  columnHeading,
  levelText,
  MARK_OFFSET_PX,
  othersLayer,
  rankedRows,
  TEXT_OFFSET_PX,
  withRows,
  type RowLabel,
} from './driver-rows.js';
import { chartData, COLOURS, INK, type ChartPart, type ChartRow } from './spec.js';

const WIDTH_PX = 330;

/** Marks of verdicts; the text beside them says the same. */
const VERDICTS: Readonly<Record<MeasuringVerdict, { readonly shape: string; readonly colour: string }>> = {
  'worth measuring': { shape: 'triangle-up', colour: COLOURS.vermilion },
  perhaps: { shape: 'diamond', colour: '#A67200' },
  'no value seen': { shape: 'cross', colour: '#757575' },
  'too few trials': { shape: 'square', colour: '#757575' },
};

/** A group is told from a single assumption by colour, and by its name. */
const KINDS: ChartPart = {
  field: 'kind',
  type: 'nominal',
  title: null,
  scale: { domain: ['single', 'group'], range: [COLOURS.sky, COLOURS.purple] },
  legend: {
    orient: 'bottom',
    direction: 'horizontal',
    symbolType: 'square',
    labelLimit: 0,
    labelExpr: "datum.value === 'group' ? 'group of numbers' : 'one number'",
  },
};

/**
 * Bars of values, a row for each input.
 *
 * @param rows of data.
 * @param study unit, level and the value of knowing everything.
 * @param labels of the rows.
 */
export function informationPlot(
  rows: readonly ChartRow[],
  study: ValueOfInformation,
  labels: readonly RowLabel[],
): ChartPart {
  const { level, perfect } = study;
  const unit = unitText(study);
  const { height, y } = rankedRows(labels);
  const values = [
    ...rows.map(({ upper }) => upper as number),
    ...(perfect === null ? [] : [perfect.estimate, perfect.upper]),
  ];
  const most = values.reduce((a, b) => Math.max(a, b), 0);
  const x = {
    type: 'quantitative',
    title: `value of knowing it before choosing (${unit})`,
    scale: { domain: [0, most > 0 ? 1.05 * most : 1], nice: false },
    // An axis without a single value would be made up.
    axis: most > 0 ? { grid: true, tickCount: 5, format: ',~r', labelFlush: false } : null,
  };
  const kinds = Object.keys(VERDICTS) as MeasuringVerdict[];
  const byVerdict = (of: 'shape' | 'colour'): ChartPart => ({
    field: 'verdict',
    type: 'nominal',
    scale: { domain: kinds, range: kinds.map((kind) => VERDICTS[kind][of]) },
    legend: null,
  });
  const inputs = { filter: '!datum.others' };
  const isMixed = new Set(rows.map(({ kind }) => kind)).size > 1;
  return {
    width: WIDTH_PX,
    height,
    layer: [
      ...(most > 0 ? perfectLayers(perfect, x, most) : []),
      {
        transform: [inputs],
        mark: { type: 'bar', height: { band: 0.45 }, color: COLOURS.sky, aria: false },
        encoding: { x: { ...x, field: 'value' }, y, ...(isMixed ? { fill: KINDS } : {}) },
      },
      {
        transform: [inputs],
        mark: { type: 'rule', strokeWidth: 1.5, color: INK, aria: false },
        encoding: { x: { ...x, field: 'lower' }, x2: { field: 'upper' }, y },
      },
      {
        transform: [inputs],
        mark: { type: 'point', filled: true, size: 70, opacity: 1, aria: false },
        encoding: {
          x: { value: WIDTH_PX + MARK_OFFSET_PX },
          y,
          shape: byVerdict('shape'),
          color: byVerdict('colour'),
        },
      },
      ...(rows.length === 0
        ? []
        : [columnHeading(WIDTH_PX + TEXT_OFFSET_PX, `${unit} (${levelText(level)})`)]),
      {
        transform: [inputs],
        ...withRows(rowFigures(WIDTH_PX + TEXT_OFFSET_PX, "datum.verdict === 'worth measuring'"), y),
      },
      withRows(othersLayer(WIDTH_PX + TEXT_OFFSET_PX), y),
      withRows(
        rowHover(WIDTH_PX, [
          { field: 'name', type: 'nominal', title: 'input' },
          { field: 'worth', type: 'nominal', title: 'worth' },
          { field: 'verdict', type: 'nominal', title: 'what can be said' },
          { field: 'otherChoice', type: 'nominal', title: 'another set-up would be chosen' },
          { field: 'flats', type: 'nominal', title: 'flats avoided by that' },
        ]),
        y,
      ),
    ],
  };
}

/** What knowing everything is worth: a line, its interval shaded. */
function perfectLayers(perfect: ValueOfInformation['perfect'], x: ChartPart, most: number): ChartPart[] {
  if (perfect === null) return [];
  const { estimate, lower, upper } = perfect;
  const data = chartData([
    {
      estimate,
      lower,
      upper,
      label: `knowing everything: ${roundedEstimate(estimate, perfect)}`,
    },
  ]);
  const isRight = estimate > most / 2;
  return [
    {
      data,
      mark: { type: 'rect', color: '#BBBBBB', opacity: 0.25, aria: false },
      encoding: { x: { ...x, field: 'lower' }, x2: { field: 'upper' } },
    },
    {
      data,
      mark: { type: 'rule', color: INK, strokeWidth: 1.5, strokeDash: [5, 3], aria: false },
      encoding: { x: { ...x, field: 'estimate' } },
    },
    { data, ...lineLabel(x, 'estimate', isRight) },
  ];
}
