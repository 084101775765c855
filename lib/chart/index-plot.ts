import type { IndexVerdictKind, VarianceIndices } from '../sensitivity/index-types.js';
import { rowFigures, rowHover } from './difference-axis.js';
import {
  levelText,
  MARK_OFFSET_PX,
  othersLayer,
  rankedRows,
  TEXT_OFFSET_PX,
  withRows,
  type RowLabel,
} from './driver-rows.js';
import { chartData, COLOURS, FAINT_INK, type ChartPart } from './spec.js';

const WIDTH_PX = 330;
/** Half of the distance between the two dots of a row, px. */
const APART_PX = 5;

/** The two indices of an input. */
const INDICES = [
  { name: 'with all it acts together with (total)', field: 'total', fill: COLOURS.blue, side: -1 },
  { name: 'alone (first order)', field: 'first', fill: 'white', side: 1 },
] as const;

/** Colour of a dot and its line: grey where alone lies above in all, which only chance does. */
function strokeOf(field: 'total' | 'first'): ChartPart | string {
  return field === 'total' ? COLOURS.blue : { expr: `datum.isNoise ? '#999999' : '${COLOURS.blue}'` };
}

/** Landing luck is told from assumptions by shape. */
const SHAPES = { assumption: 'circle', luck: 'square' } as const;

/** Marks of verdicts. */
const VERDICTS: Readonly<Record<IndexVerdictKind, { readonly shape: string; readonly colour: string }>> = {
  matters: { shape: 'triangle-up', colour: COLOURS.vermilion },
  'need more trials': { shape: 'diamond', colour: '#A67200' },
  'too small to see': { shape: 'cross', colour: '#757575' },
};

/**
 * Dots of indices, a row for each input.
 *
 * @param indices level and what is small.
 * @param labels of the rows.
 */
export function indexPlot({ smallShare }: VarianceIndices, labels: readonly RowLabel[]): ChartPart {
  const { height, y } = rankedRows(labels);
  const x = {
    type: 'quantitative',
    title: 'share of the spread (of the variance, %)',
    scale: { domain: [0, 1], nice: false },
    axis: {
      labelExpr: "format(100 * datum.value, 'd') + ' %'",
      values: [0, 0.25, 0.5, 0.75, 1],
      labelFlush: false,
      grid: true,
    },
  };
  const small = chartData([{ smallShare, label: `small: below ${levelText(smallShare)}` }]);
  return {
    width: WIDTH_PX,
    height,
    layer: [
      {
        data: small,
        mark: { type: 'rule', color: FAINT_INK, strokeDash: [4, 3], aria: false },
        encoding: { x: { ...x, field: 'smallShare' } },
      },
      {
        data: small,
        mark: {
          type: 'text',
          align: 'left',
          baseline: 'bottom',
          fontSize: 11,
          color: FAINT_INK,
          aria: false,
        },
        encoding: { x: { ...x, field: 'smallShare' }, y: { value: -4 }, text: { field: 'label' } },
      },
      ...INDICES.flatMap(({ field, side, name }) => [
        {
          transform: [{ filter: '!datum.others' }],
          mark: {
            type: 'rule',
            color: strokeOf(field),
            strokeWidth: 1.5,
            yOffset: side * APART_PX,
            aria: false,
          },
          encoding: { x: { ...x, field: `${field}Lower` }, x2: { field: `${field}Upper` }, y },
        },
        {
          transform: [{ filter: '!datum.others' }, { calculate: JSON.stringify(name), as: 'index' }],
          mark: {
            type: 'point',
            filled: true,
            stroke: strokeOf(field),
            strokeWidth: 1.5,
            size: 55,
            opacity: 1,
            yOffset: side * APART_PX,
            aria: false,
          },
          encoding: {
            x: { ...x, field },
            y,
            fill: {
              field: 'index',
              type: 'nominal',
              title: null,
              scale: { domain: INDICES.map((each) => each.name), range: INDICES.map((each) => each.fill) },
              legend: { ...LEGEND, symbolStrokeColor: COLOURS.blue, symbolStrokeWidth: 1.5 },
            },
            shape: {
              field: 'kind',
              type: 'nominal',
              title: null,
              scale: { domain: Object.keys(SHAPES), range: Object.values(SHAPES) },
              // The row says what it is.
              legend: null,
            },
          },
        },
      ]),
      verdictMarks(y),
      {
        transform: [{ filter: '!datum.others' }],
        ...withRows(rowFigures(WIDTH_PX + TEXT_OFFSET_PX, "datum.verdict === 'matters'"), y),
      },
      withRows(othersLayer(WIDTH_PX + TEXT_OFFSET_PX), y),
      withRows(
        rowHover(WIDTH_PX, [
          { field: 'name', type: 'nominal', title: 'input' },
          { field: 'whole', type: 'nominal', title: 'total index' },
          { field: 'alone', type: 'nominal', title: 'first-order index' },
          { field: 'verdictText', type: 'nominal', title: 'what can be said' },
        ]),
        y,
      ),
    ],
    resolve: { scale: { shape: 'independent' } },
  };
}

const LEGEND: ChartPart = {
  orient: 'bottom',
  direction: 'horizontal',
  labelLimit: 0,
  symbolSize: 60,
  symbolOpacity: 1,
};

/** What can be said of each input, beside the plot; the text beside it says it in words. */
function verdictMarks(y: ChartPart): ChartPart {
  const kinds = Object.keys(VERDICTS) as IndexVerdictKind[];
  return {
    transform: [{ filter: '!datum.others' }],
    mark: { type: 'point', filled: true, size: 70, opacity: 1, aria: false },
    encoding: {
      x: { value: WIDTH_PX + MARK_OFFSET_PX },
      y,
      shape: {
        field: 'verdict',
        type: 'nominal',
        scale: { domain: kinds, range: kinds.map((kind) => VERDICTS[kind].shape) },
        legend: null,
      },
      color: {
        field: 'verdict',
        type: 'nominal',
        scale: { domain: kinds, range: kinds.map((kind) => VERDICTS[kind].colour) },
        legend: null,
      },
    },
  };
}
