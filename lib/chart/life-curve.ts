import type { RemainingLife } from '../decide/remaining-types.js';
import type { RunResult } from '../run.js';
import { chosenPairing, type PairingName } from './chosen.js';
import { amountText } from './figures.js';
import { lifeWords } from './life-words.js';
import {
  endOfCurve,
  NEW_TIRES,
  newTireFigures,
  newTireRows,
  todayFigures,
  todayRows,
  worldRows,
  WORLDS,
  YOUR_TIRES,
  type MarkedFigure,
} from './life-rows.js';
import { rounded } from './measures.js';
import {
  chartData,
  COLOURS,
  INK,
  makeChart,
  PLOT_HEIGHT_PX,
  PLOT_WIDTH_PX,
  type ChartPart,
  type ChartSpec,
} from './spec.js';

/** Which pairing {@link lifeCurveChart} draws, and what goes on it. */
export interface LifeCurveOptions extends PairingName {
  /** Life left in the tires on the airplane, from `remainingLife`; left out: new tires only. */
  readonly today?: RemainingLife | undefined;
}

/** Vermilion dark enough for text: 6:1 on white. */
const DARK_VERMILION = '#A34700';
/** Right of this share of the plot there is room for a label left of a line, and below the curves. */
const TURN_SHARE = 0.35;

/**
 * Life-expectancy curve of the main tires of a pairing: chance that they are still in service against flight hours,
 * with P10, P50 and P90, the band between a harsh and a kind world, and the error of the simulation. With `today`, the
 * tires on the airplane are marked at their hours, and the curve goes on from there as what they have left.
 *
 * @param result the answer of a run.
 * @param options which pairing, and the tires of today.
 * @returns a Vega-Lite specification.
 * @throws UsageError for a name that the result does not have.
 */
export function lifeCurveChart(result: RunResult, options: LifeCurveOptions): ChartSpec {
  const pairing = chosenPairing(result, options);
  const today = options.today ?? null;
  const end = Math.max(endOfCurve(pairing), today === null ? 0 : lastOfToday(today));
  const hasWorlds = pairing.curves.worlds !== null;
  const series = [NEW_TIRES, ...(hasWorlds ? [WORLDS] : []), ...(today === null ? [] : [YOUR_TIRES])];
  const axes = encodings(end, series);
  return makeChart(lifeWords(result, pairing, today), newTireRows(pairing, end, result.season.flightHours), {
    width: PLOT_WIDTH_PX,
    height: PLOT_HEIGHT_PX,
    layer: [
      ...(hasWorlds ? worldLayers(axes, chartData(worldRows(pairing, end))) : []),
      bandLayer(axes, COLOURS.blue),
      lineLayer(axes, 'chance', 2.5),
      hoverLayer(axes, [
        { field: 'after', title: 'after' },
        { field: 'still', title: 'still in service' },
        { field: 'doubt', title: 'harsh to kind world' },
        { field: 'error', title: 'error of the simulation (95 %)' },
      ]),
      ...figureLayers(axes, newTireFigures(pairing), {
        color: INK,
        shape: 'circle',
        isLabelled: today === null,
      }),
      ...(today === null ? [] : todayLayers(axes, today, end)),
    ],
  });
}

/** Hours since new at which hardly one of the sets of today is left. */
function lastOfToday({ flown, curves }: RemainingLife): number {
  return flown.hours + curves.hours[curves.hours.length - 1]!;
}

interface Encodings {
  readonly x: ChartPart;
  readonly y: ChartPart;
  readonly bySeries: ChartPart;
}

function encodings(end: number, series: readonly string[]): Encodings {
  const looks: Readonly<Record<string, readonly [colour: string, dash: readonly number[]]>> = {
    [NEW_TIRES]: [COLOURS.blue, [1, 0]],
    [WORLDS]: [COLOURS.blue, [2, 3]],
    [YOUR_TIRES]: [COLOURS.vermilion, [7, 3]],
  };
  const legend = {
    orient: 'bottom',
    direction: 'horizontal',
    symbolType: 'stroke',
    symbolSize: 500,
    symbolStrokeWidth: 2.5,
    symbolOpacity: 1,
  };
  const encode = (of: 0 | 1): ChartPart => ({
    field: 'series',
    type: 'nominal',
    title: null,
    scale: { domain: series, range: series.map((name) => looks[name]![of]) },
    legend,
  });
  return {
    x: {
      field: 'hours',
      type: 'quantitative',
      title: 'flight hours since new (h)',
      scale: { domain: [0, Math.max(1, rounded(end, 2))], nice: false },
      axis: { format: ',~r', grid: false, tickCount: 8, labelFlush: false },
    },
    y: {
      type: 'quantitative',
      title: 'sets still in service (%)',
      scale: { domain: [0, 1] },
      axis: { format: '.0%', tickCount: 5 },
    },
    bySeries: { color: encode(0), strokeDash: encode(1) },
  };
}

function worldLayers(axes: Encodings, data: ChartPart): ChartPart[] {
  const { x, y } = axes;
  return [
    {
      data,
      mark: { type: 'area', color: COLOURS.sky, opacity: 0.22, aria: false },
      encoding: { x, y: { ...y, field: 'harsh' }, y2: { field: 'kind' } },
    },
    { data, ...lineLayer(axes, 'harsh', 1.2) },
    { data, ...lineLayer(axes, 'kind', 1.2) },
  ];
}

function bandLayer({ x, y }: Encodings, color: string): ChartPart {
  return {
    mark: { type: 'area', color, opacity: 0.3, aria: false },
    encoding: { x, y: { ...y, field: 'lower' }, y2: { field: 'upper' } },
  };
}

function lineLayer({ x, y, bySeries }: Encodings, field: string, strokeWidth: number): ChartPart {
  return {
    mark: { type: 'line', strokeWidth, aria: false },
    encoding: { x, y: { ...y, field }, ...bySeries },
  };
}

function hoverLayer({ x, y }: Encodings, tooltip: readonly ChartPart[]): ChartPart {
  return {
    mark: { type: 'point', opacity: 0, size: 90, filled: true },
    encoding: { x, y: { ...y, field: 'chance' }, description: { field: 'said' }, tooltip },
  };
}

/** Figures on a curve, with their labels if there is room for them. */
function figureLayers(
  { x, y }: Encodings,
  figures: readonly MarkedFigure[],
  { color, shape, isLabelled }: FigureLook,
): ChartPart[] {
  if (figures.length === 0) return [];
  const place = { x, y: { ...y, field: 'chance' } };
  const data = chartData(figures.map((figure) => ({ ...figure })));
  return [
    {
      data: chartData(figures.map((figure) => ({ ...figure }))),
      mark: {
        type: 'point',
        shape,
        size: 60,
        filled: true,
        color,
        opacity: 1,
        stroke: 'white',
        strokeWidth: 1,
      },
      encoding: {
        ...place,
        description: { field: 'label' },
        tooltip: [
          { field: 'label', title: 'figure' },
          { field: 'interval', title: 'error of the simulation (95 %)' },
        ],
      },
    },
    ...(isLabelled
      ? haloed(
          {
            data,
            mark: { type: 'text', align: 'left', baseline: 'bottom', dx: 8, dy: -2, aria: false },
            encoding: { ...place, text: { field: 'label' } },
          },
          color,
        )
      : []),
  ];
}

interface FigureLook {
  readonly color: string;
  readonly shape: string;
  readonly isLabelled: boolean;
}

/** A layer of text, and under it the same text as a white edge. */
function haloed(layer: ChartPart, color: string): ChartPart[] {
  const mark = layer.mark as ChartPart;
  return [
    { ...layer, mark: { ...mark, color: 'white', stroke: 'white', strokeWidth: 4, strokeJoin: 'round' } },
    { ...layer, mark: { ...mark, color } },
  ];
}

/** The tires on the airplane: a line at their hours, and what they have left from there. */
function todayLayers(axes: Encodings, today: RemainingLife, end: number): ChartPart[] {
  const { x } = axes;
  const hours = rounded(today.flown.hours, 2);
  const now = chartData([{ hours, label: `your tires today: ${amountText(hours)} h` }]);
  const isLeft = hours > TURN_SHARE * end;
  const data = chartData(todayRows(today, end));
  return [
    {
      data: now,
      mark: { type: 'rule', color: COLOURS.vermilion, strokeWidth: 1.5, aria: false },
      encoding: { x },
    },
    { data, ...bandLayer(axes, COLOURS.vermilion) },
    { data, ...lineLayer(axes, 'chance', 2.5) },
    {
      data,
      ...hoverLayer(axes, [
        { field: 'after', title: 'your tires' },
        { field: 'still', title: 'still in service' },
        { field: 'past', title: 'tread limit passed by wear' },
        { field: 'error', title: 'error of the simulation (95 %)' },
      ]),
    },
    ...figureLayers(axes, todayFigures(today), {
      color: DARK_VERMILION,
      shape: 'diamond',
      isLabelled: true,
    }),
    ...haloed(
      {
        data: now,
        mark: {
          type: 'text',
          align: isLeft ? 'right' : 'left',
          baseline: 'bottom',
          dx: isLeft ? -6 : 6,
          dy: -6,
          aria: false,
        },
        encoding: { x, y: { value: PLOT_HEIGHT_PX }, text: { field: 'label' } },
      },
      DARK_VERMILION,
    ),
  ];
}
