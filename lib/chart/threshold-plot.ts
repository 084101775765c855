import { CRITERION_WORDS } from '../present/compare-words.js';
import type { MeanEstimate } from '../estimate/paired.js';
import type { ChoiceThreshold } from '../sensitivity/threshold-types.js';
import { roomAround } from './driver-rows.js';
import { endLabels } from './end-labels.js';
import { logRange, type AxisRange } from './log-axis.js';
import { LINE_STYLES, type LineStyle } from './pressure-panel.js';
import { chartData, COLOURS, DARK_VERMILION, type ChartPart } from './spec.js';
import { VALUE_PLOT_PX, type ValueAxis } from './value-axis.js';

const HEIGHT_PX = 290;
const STYLES: readonly LineStyle[] = Object.values(LINE_STYLES);
/** Between two lines of text above the plot, px. */
const LINE_PX = 13;
/** Room that a label of the axis of means needs, px. */
const TICK_LABEL_PX = 20;
/** Thickness of the bar of an interval, and its middle above the axis; neighbours stand above each other, px. */
const BAR_PX = 5;

/** Look of a line; after the last the colours come again. */
function styleOf(place: number): LineStyle {
  return STYLES[place % STYLES.length]!;
}

/**
 * Means of set-ups along an assumption, with flips.
 *
 * @param threshold what was found.
 * @param axis of the assumption.
 * @param setups names of those drawn, in the order of the rows.
 */
export function thresholdPlot(
  threshold: ChoiceThreshold,
  axis: ValueAxis,
  setups: readonly string[],
): ChartPart {
  const { points, criterion, unit } = threshold;
  const drawn = (point: ChoiceThreshold['points'][number]): ChoiceThreshold['points'][number]['means'] =>
    point.means.filter(({ setup }) => setups.includes(setup));
  const means = points.flatMap((point) => drawn(point).map(({ mean }) => mean));
  const range = meanRange(means);
  const x = {
    type: 'quantitative',
    title: axis.title,
    scale: scaleOf(axis),
    axis: { grid: false, format: ',~r', labelFlush: false, ...ticksOf(axis) },
  };
  const y = {
    type: 'quantitative',
    title: `${CRITERION_WORDS[criterion].title} (${unit})${range.type === 'log' ? ', log' : ''}`,
    scale: scaleOf(range),
    axis: { format: ',~r', ...ticksOf(range) },
  };
  const bySetup = (range: readonly unknown[]): ChartPart => ({
    field: 'setup',
    type: 'nominal',
    scale: { domain: setups.map((_, place) => place), range },
    legend: null,
  });
  const styles = setups.map((_, place) => styleOf(place));
  const color = bySetup(styles.map(({ colour }) => colour));
  const last = points[points.length - 1]!;
  return {
    width: VALUE_PLOT_PX,
    height: HEIGHT_PX,
    layer: [
      ...plausibleLayer(threshold, axis, x),
      ...flipLayers(threshold, axis, x),
      {
        mark: { type: 'area', opacity: 0.15, aria: false },
        encoding: { x: { ...x, field: 'value' }, y: { ...y, field: 'lower' }, y2: { field: 'upper' }, color },
      },
      {
        mark: { type: 'line', strokeWidth: 2, aria: false },
        encoding: {
          x: { ...x, field: 'value' },
          y: { ...y, field: 'mean' },
          color,
          strokeDash: bySetup(styles.map(({ dash }) => dash)),
        },
      },
      {
        mark: { type: 'point', opacity: 0, size: 80, filled: true },
        encoding: {
          x: { ...x, field: 'value' },
          y: { ...y, field: 'mean' },
          description: { field: 'said' },
          tooltip: [
            { field: 'name', type: 'nominal', title: 'set-up' },
            { field: 'at', type: 'nominal', title: 'value' },
            { field: 'figure', type: 'nominal', title: 'mean, with its interval' },
            { field: 'best', type: 'nominal', title: 'best here' },
          ],
        },
      },
      ...endLabels(
        drawn(last).map(({ setup, mean }, place) => ({
          label: setup,
          colour: styleOf(place).ink,
          value: mean.estimate,
        })),
        range,
        { widthPx: VALUE_PLOT_PX, heightPx: HEIGHT_PX },
      ),
    ],
  };
}

/** Highest over lowest mean from which on small differences would be hidden. */
const WIDE_RATIO = 5;

/** An axis around means and their intervals: log where some set-ups are far from the others. */
function meanRange(means: readonly MeanEstimate[]): AxisRange {
  const middles = means.map(({ estimate }) => estimate);
  const ends = means.flatMap(({ lower, upper, estimate }) => [lower, estimate, upper]);
  const [low, high] = [Math.min(...middles), Math.max(...middles)];
  // An interval that goes below 0 has no place on a log axis.
  return low > 0 && high / low > WIDE_RATIO && ends.every((end) => end > 0)
    ? logRange(ends, [0, Infinity], HEIGHT_PX, TICK_LABEL_PX)
    : { type: 'linear', domain: roomAround(ends), ticks: null };
}

function scaleOf({ type, domain }: Pick<AxisRange, 'type' | 'domain'>): ChartPart {
  return { type, domain, nice: false, ...(type === 'log' ? {} : { zero: false }) };
}

function ticksOf({ ticks }: Pick<AxisRange, 'ticks'>): ChartPart {
  return ticks === null ? { tickCount: 6 } : { values: ticks };
}

/** The middle eight in ten of what the scenario allows. */
function plausibleLayer({ points }: ChoiceThreshold, axis: ValueAxis, x: ChartPart): ChartPart[] {
  const at = (wanted: number): number =>
    points.reduce((nearest, point) =>
      Math.abs(point.probability - wanted) < Math.abs(nearest.probability - wanted) ? point : nearest,
    ).valueSi;
  return [
    {
      data: chartData([{ from: axis.valueOf(at(0.1)), to: axis.valueOf(at(0.9)) }]),
      mark: { type: 'rect', color: '#BBBBBB', opacity: 0.25, aria: false },
      encoding: { x: { ...x, field: 'from' }, x2: { field: 'to' } },
    },
  ];
}

/** Values at which another set-up becomes the best, with their intervals; dashed where the trials leave it open. */
function flipLayers({ flips }: ChoiceThreshold, axis: ValueAxis, x: ChartPart): ChartPart[] {
  if (flips.length === 0) return [];
  const [start, end] = axis.domain;
  const data = chartData(
    flips.map(({ valueSi, lowerSi, upperSi, toldApart }, index) => {
      const value = axis.valueOf(valueSi);
      const number = (si: number): string => String(Number(axis.valueOf(si).toPrecision(3)));
      const interval =
        lowerSi === null
          ? upperSi === null
            ? 'interval: all drawn'
            : `interval: up to ${number(upperSi)}`
          : upperSi === null
            ? `interval: from ${number(lowerSi)} on`
            : `${number(lowerSi)} to ${number(upperSi)}`;
      return {
        value,
        lower: lowerSi === null ? start : Math.max(start, axis.valueOf(lowerSi)),
        upper: upperSi === null ? end : Math.min(end, axis.valueOf(upperSi)),
        toldApart,
        label: `${toldApart ? 'flips' : 'may flip'} at ${number(valueSi)} (${interval})`,
        // Neighbours stand on lines of their own.
        topPx: -4 - LINE_PX * (index % 2),
        barPx: HEIGHT_PX - BAR_PX * (0.5 + 1.5 * index),
      };
    }),
  );
  const shareOf = (value: number): number =>
    axis.type === 'log' ? Math.log(value / start) / Math.log(end / start) : (value - start) / (end - start);
  const isRight = shareOf(axis.valueOf(flips[0]!.valueSi)) > 0.6;
  return [
    {
      data,
      mark: { type: 'rule', color: COLOURS.vermilion, strokeWidth: BAR_PX, aria: false },
      encoding: {
        x: { ...x, field: 'lower' },
        x2: { field: 'upper' },
        y: { field: 'barPx', type: 'quantitative', scale: null, axis: null },
      },
    },
    ...[true, false].map((told) => ({
      data,
      transform: [{ filter: `datum.toldApart === ${told}` }],
      mark: {
        type: 'rule',
        color: COLOURS.vermilion,
        strokeWidth: 1.5,
        aria: false,
        ...(told ? {} : { strokeDash: [4, 3] }),
      },
      encoding: { x: { ...x, field: 'value' } },
    })),
    {
      data,
      mark: {
        type: 'text',
        align: isRight ? 'right' : 'left',
        baseline: 'bottom',
        color: DARK_VERMILION,
        aria: false,
      },
      encoding: {
        x: { ...x, field: 'value' },
        y: { field: 'topPx', type: 'quantitative', scale: null, axis: null },
        text: { field: 'label', type: 'nominal' },
      },
    },
  ];
}
