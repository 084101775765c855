import { roundedText } from '../present/amounts.js';
import { rowFigures, rowHover } from './difference-axis.js';
import {
  lineLabel,
  columnHeading,
  MARK_OFFSET_PX,
  othersLayer,
  rankedRows,
  roomAround,
  TEXT_OFFSET_PX,
  withRows,
  type FigureAxis,
} from './driver-rows.js';
import { chartData, COLOURS, DARK_VERMILION, INK, type ChartPart, type ChartRow } from './spec.js';

const WIDTH_PX = 330;

/** Ends of an assumption: colours that differ also in grey. */
const ENDS = [
  { name: 'at its low value (P10)', colour: COLOURS.orange },
  { name: 'at its high value (P90)', colour: COLOURS.blue },
] as const;

/** Whether the best set-up changes, as told by a mark. */
const FLIPS = {
  yes: { name: 'changes which set-up is best', fill: COLOURS.vermilion },
  perhaps: { name: 'may change it: more trials would tell', fill: 'white' },
} as const;

/**
 * Bars about the mean of a plain run, a row for each assumption.
 *
 * @param rows of data.
 * @param axis of the figure.
 * @param base mean of a plain run, in the unit of the axis.
 * @param labels of the rows.
 * @param interval how sure the intervals are: "95 %".
 * @param belowZero for a lead: what holds below 0, a line that is then drawn; null for a figure of a set-up.
 */
export function effectPlot(
  rows: readonly ChartRow[],
  { axisTitle, unit }: FigureAxis,
  base: number,
  interval: string,
  labels: Parameters<typeof rankedRows>[0],
  belowZero: string | null = null,
): ChartPart {
  const { rowPx, height, y } = rankedRows(labels);
  const domain = roomAround([
    base,
    ...(belowZero === null ? [] : [0]),
    ...rows.flatMap(({ low, high, changeLow, changeHigh }) => [low, high, changeLow, changeHigh] as number[]),
  ]);
  const x = {
    type: 'quantitative',
    title: axisTitle,
    scale: { domain, nice: false, zero: false },
    axis: { grid: true, tickCount: 5, format: ',~r', labelFlush: false },
  };
  const barPx = Math.min(10, rowPx / 3);
  const bars = chartData(
    rows.flatMap(({ place, low, high }) => [
      { place: place!, end: ENDS[0].name, from: base, to: low! },
      { place: place!, end: ENDS[1].name, from: base, to: high! },
    ]),
  );
  const flipping = rows.filter(({ flips }) => flips !== 'no');
  return {
    width: WIDTH_PX,
    height,
    layer: [
      ...(belowZero === null ? [] : zeroLayers(x, belowZero, domain)),
      ...ENDS.map(({ name }, index) => ({
        data: bars,
        transform: [{ filter: `datum.end === '${name}'` }],
        mark: { type: 'bar', height: barPx, yOffset: (index - 0.5) * (barPx + 1), aria: false },
        encoding: {
          x: { ...x, field: 'from' },
          x2: { field: 'to' },
          y,
          color: {
            field: 'end',
            type: 'nominal',
            title: null,
            scale: { domain: ENDS.map((end) => end.name), range: ENDS.map(({ colour }) => colour) },
            legend: { orient: 'bottom', direction: 'horizontal', symbolType: 'square', labelLimit: 0 },
          },
        },
      })),
      {
        transform: [{ filter: '!datum.others' }],
        mark: { type: 'rule', strokeWidth: 1.5, color: INK, yOffset: 0.5 * (barPx + 1), aria: false },
        encoding: { x: { ...x, field: 'changeLow' }, x2: { field: 'changeHigh' }, y },
      },
      columnHeading(WIDTH_PX + TEXT_OFFSET_PX, `change, ${unit} (${interval})`),
      ...baseLayers(x, base, domain),
      ...(flipping.length === 0 ? [] : [flipLayer(y)]),
      {
        transform: [{ filter: '!datum.others' }],
        ...withRows(rowFigures(WIDTH_PX + TEXT_OFFSET_PX, 'datum.isTold'), y),
      },
      withRows(othersLayer(WIDTH_PX + TEXT_OFFSET_PX), y),
      withRows(
        rowHover(WIDTH_PX, [
          { field: 'name', type: 'nominal', title: 'assumption' },
          { field: 'span', type: 'nominal', title: 'low to high (P10 to P90)' },
          {
            field: 'figures',
            type: 'nominal',
            title: `${belowZero === null ? 'mean' : 'lead'} at low and high`,
          },
          { field: 'text', type: 'nominal', title: `change (${unit}, ${interval} interval)` },
          { field: 'flipText', type: 'nominal', title: 'changes which is best' },
          { field: 'path', type: 'nominal', title: 'place in the scenario' },
        ]),
        y,
      ),
    ],
  };
}

/** The line where a lead turns, and what holds below it, which is shaded; above the text of the plain run. */
function zeroLayers(x: ChartPart, belowZero: string, domain: readonly [number, number]): ChartPart[] {
  const data = chartData([{ zero: 0, start: domain[0], label: belowZero }]);
  const isRight = 0 > (domain[0] + domain[1]) / 2;
  return [
    {
      data,
      mark: { type: 'rect', color: '#BBBBBB', opacity: 0.25, aria: false },
      encoding: { x: { ...x, field: 'start' }, x2: { field: 'zero' } },
    },
    {
      data,
      mark: { type: 'rule', color: COLOURS.vermilion, strokeWidth: 1.5, aria: false },
      encoding: { x: { ...x, field: 'zero' } },
    },
    {
      data,
      mark: {
        type: 'text',
        align: isRight ? 'right' : 'left',
        baseline: 'bottom',
        fontSize: 11,
        color: DARK_VERMILION,
        aria: false,
      },
      encoding: {
        x: { ...x, field: 'zero' },
        y: { value: -18 },
        text: { field: 'label', type: 'nominal' },
      },
    },
  ];
}

/** The mean of a plain run, from which bars go. */
function baseLayers(x: ChartPart, base: number, domain: readonly [number, number]): ChartPart[] {
  const data = chartData([{ base, label: `plain run: ${roundedText(base, 0)}` }]);
  const isRight = base > (domain[0] + domain[1]) / 2;
  return [
    {
      data,
      mark: { type: 'rule', color: INK, strokeWidth: 1.2, aria: false },
      encoding: { x: { ...x, field: 'base' } },
    },
    { data, ...lineLabel(x, 'base', isRight) },
  ];
}

function flipLayer(y: ChartPart): ChartPart {
  const kinds = Object.keys(FLIPS) as (keyof typeof FLIPS)[];
  return {
    transform: [{ filter: "datum.flips === 'yes' || datum.flips === 'perhaps'" }],
    mark: {
      type: 'point',
      shape: 'diamond',
      filled: true,
      stroke: COLOURS.vermilion,
      strokeWidth: 1.5,
      size: 80,
      opacity: 1,
      aria: false,
    },
    encoding: {
      x: { value: WIDTH_PX + MARK_OFFSET_PX },
      y,
      fill: {
        field: 'flips',
        type: 'nominal',
        title: null,
        scale: { domain: kinds, range: kinds.map((kind) => FLIPS[kind].fill) },
        legend: {
          orient: 'bottom',
          direction: 'horizontal',
          symbolType: 'diamond',
          symbolStrokeColor: COLOURS.vermilion,
          symbolStrokeWidth: 1.5,
          symbolSize: 80,
          labelLimit: 0,
          labelExpr: `${JSON.stringify(Object.fromEntries(kinds.map((kind) => [kind, FLIPS[kind].name])))}[datum.value]`,
        },
      },
    },
  };
}
