import { endLabels, LABEL_GAP_PX, type EndLabel } from './end-labels.js';
import type { AxisRange } from './log-axis.js';
import { pressureAlong, pressureBackdrop, PRESSURE_PANEL_PX, type PressureFrame } from './pressure-frame.js';
import { chartData, COLOURS, INK, type ChartPart, type ChartRow } from './spec.js';

const LEAST_HEIGHT_PX = 110;

/** A figure at one pressure. */
export interface PressureReading {
  readonly pressurePsi: number;
  /** Null where there is none. */
  readonly value: number | null;
  /** Spread of the figure itself; null beyond what was looked at. */
  readonly band?: readonly [number | null, number | null];
  /** Error of the simulation. */
  readonly error?: readonly [number | null, number | null];
  /** True where a limit is broken at this pressure. */
  readonly broken: boolean;
  readonly pressureText: string;
  readonly valueText: string;
  /** Spread, error or circumstances, in words. */
  readonly moreText: string;
  readonly brokenText: string;
}

/** A figure along pressure. */
export interface PressureSeries {
  readonly name: string;
  readonly style: LineStyle;
  readonly readings: readonly PressureReading[];
}

/** A panel of an inflation chart: figures of one unit along pressure. */
export interface PressurePanel {
  readonly title: string;
  /** With the unit. */
  readonly axisTitle: string;
  readonly range: AxisRange;
  readonly series: readonly PressureSeries[];
  /** Levels not to be passed, with a label. */
  readonly levels: readonly { readonly value: number; readonly label: string }[];
  /** Expression for the labels of the axis. */
  readonly labelExpr: string;
  /** What the ends of the axis are called. */
  readonly endText: (value: number) => string;
  /** What the text beside a value tells, as a heading. */
  readonly moreTitle: string;
}

/** How a line and its name are drawn. */
export interface LineStyle {
  readonly colour: string;
  /** Colour of its name: the same, dark enough to be read on white. */
  readonly ink: string;
  readonly dash: readonly number[];
}

/** Colours and dashes that tell lines apart, also in grey. */
export const LINE_STYLES = {
  blue: { colour: COLOURS.blue, ink: COLOURS.blue, dash: [1, 0] },
  vermilion: { colour: COLOURS.vermilion, ink: '#A84A00', dash: [6, 3] },
  green: { colour: COLOURS.green, ink: '#00734F', dash: [2, 2] },
  purple: { colour: COLOURS.purple, ink: '#8F4A70', dash: [8, 3, 2, 3] },
  orange: { colour: COLOURS.orange, ink: '#8A5F00', dash: [4, 4] },
  black: { colour: COLOURS.black, ink: COLOURS.black, dash: [1, 3] },
} as const satisfies Readonly<Record<string, LineStyle>>;

/**
 * Draws a panel.
 *
 * @param panel what is in it.
 * @param frame what all panels share.
 * @param last true for the lowest one, which has the pressures.
 */
export function drawPressurePanel(panel: PressurePanel, frame: PressureFrame, last: boolean): ChartPart {
  const { title, axisTitle, range, series, levels, labelExpr, endText, moreTitle } = panel;
  const height = Math.max(LEAST_HEIGHT_PX, LABEL_GAP_PX * (series.length + levels.length));
  const rows = series.flatMap((line, place) =>
    line.readings.map((reading) => row(reading, line, place, range)),
  );
  const y = {
    type: 'quantitative',
    title: axisTitle,
    scale: { type: range.type, domain: range.domain, nice: false },
    axis: {
      labelExpr,
      description: `${axisTitle} from ${range.domain.map(endText).join(' to ')}`,
      ...(range.ticks === null ? { tickCount: 4 } : { values: range.ticks }),
    },
  };
  const colour = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: series.map((_, place) => place), range: series.map(({ style }) => style.colour) },
    legend: null,
  };
  const dash = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: series.map((_, place) => place), range: series.map(({ style }) => style.dash) },
    legend: null,
  };
  const x = pressureAlong(frame, last);
  const at = (field: string): ChartPart => ({ ...y, field });
  return {
    title: { text: title, anchor: 'start', fontSize: 13, fontWeight: 600, offset: 6 },
    width: PRESSURE_PANEL_PX,
    height,
    layer: [
      ...pressureBackdrop(frame, last),
      {
        data: chartData(rows),
        layer: [
          {
            transform: [{ filter: 'isValid(datum.bandLow)' }],
            mark: { type: 'area', opacity: 0.18, aria: false },
            encoding: { x, y: at('bandLow'), y2: { field: 'bandHigh' }, color: colour },
          },
          {
            // Of one pressure alone there is no area.
            transform: [{ filter: `isValid(datum.bandLow) && ${rows.length === series.length}` }],
            mark: { type: 'rule', opacity: 0.5, aria: false },
            encoding: { x, y: at('bandLow'), y2: { field: 'bandHigh' }, color: colour },
          },
          {
            mark: { type: 'line', strokeWidth: 1.8, aria: false },
            encoding: { x, y: at('value'), color: colour, strokeDash: dash },
          },
          {
            transform: [{ filter: 'isValid(datum.lower)' }],
            mark: { type: 'rule', strokeWidth: 3, opacity: 0.6, aria: false },
            encoding: { x, y: at('lower'), y2: { field: 'upper' }, color: colour },
          },
          {
            transform: [{ filter: 'isValid(datum.value)' }],
            mark: { type: 'point', size: 26, opacity: 1, strokeWidth: 1.4, aria: false },
            encoding: {
              x,
              y: at('value'),
              color: colour,
              fill: {
                condition: { test: 'datum.broken', value: 'white' },
                field: 'place',
                type: 'ordinal',
                scale: colour.scale,
                legend: null,
              },
            },
          },
          {
            transform: [{ filter: 'datum.beyond' }],
            mark: { type: 'point', shape: 'triangle-up', size: 40, filled: true, opacity: 1, aria: false },
            encoding: { x, y: { value: 2 }, color: colour },
          },
          {
            // Wider than the dots, so that the pointer finds them; where there is no value, at the top.
            transform: [
              { calculate: `isValid(datum.value) ? datum.value : ${range.domain[1]}`, as: 'pointed' },
            ],
            mark: { type: 'point', size: 200, filled: true, opacity: 0 },
            encoding: {
              x,
              y: at('pointed'),
              description: { field: 'said' },
              tooltip: [
                { field: 'pressureText', type: 'nominal', title: 'cold pressure' },
                { field: 'valueText', type: 'nominal', title },
                { field: 'name', type: 'nominal', title: 'which' },
                { field: 'moreText', type: 'nominal', title: moreTitle },
                { field: 'brokenText', type: 'nominal', title: 'limits broken' },
              ],
            },
          },
        ],
      },
      ...levelLayers(levels, y),
      ...endLabels(namesOf(panel), range, { widthPx: PRESSURE_PANEL_PX, heightPx: height }),
    ],
  };
}

function row(reading: PressureReading, line: PressureSeries, place: number, range: AxisRange): ChartRow {
  const { value, band, error, pressureText, valueText } = reading;
  const [start, end] = range.domain;
  const inside = (number: number | null): number => Math.min(Math.max(number ?? end, start), end);
  return {
    pressurePsi: reading.pressurePsi,
    place,
    name: line.name,
    value: value === null || value < start ? null : value,
    bandLow: band === undefined ? null : inside(band[0]),
    bandHigh: band === undefined ? null : inside(band[1]),
    lower: error === undefined || value === null ? null : inside(error[0]),
    upper: error === undefined || value === null ? null : inside(error[1]),
    beyond: value === null || band?.[1] === null,
    broken: reading.broken,
    pressureText,
    valueText,
    moreText: reading.moreText,
    brokenText: reading.brokenText,
    said: `at ${pressureText}, ${line.name}: ${valueText}${reading.brokenText === 'none' ? '' : `; limits broken: ${reading.brokenText}`}`,
  };
}

function levelLayers(levels: PressurePanel['levels'], y: ChartPart): ChartPart[] {
  if (levels.length === 0) return [];
  return [
    {
      data: chartData(levels.map(({ value }) => ({ level: value }))),
      mark: { type: 'rule', color: COLOURS.black, strokeDash: [6, 4], aria: false },
      encoding: { y: { ...y, field: 'level' } },
    },
  ];
}

/** A single line is named by its panel. */
function namesOf({ series, levels }: PressurePanel): EndLabel[] {
  const single = series.length === 1 && levels.length === 0;
  return [
    ...(single ? [] : series).flatMap(({ name, style, readings }) => {
      const last = readings.filter(({ value }) => value !== null).at(-1);
      return last === undefined || last.value === null
        ? []
        : [{ label: name, colour: style.ink, value: last.value }];
    }),
    ...levels.map(({ label, value }) => ({ label, colour: INK, value })),
  ];
}
