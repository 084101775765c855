import type { PressurePart } from '../estimate/pressure-parts.js';
import type { MonthSpan } from '../scenario/calendar.js';
import { pressureChangeText, psi } from './measures.js';
import { flownStretches, monthRules, monthsAlong } from './month-axis.js';
import { chartData, COLOURS, PLOT_WIDTH_PX, type ChartPart, type ChartRow } from './spec.js';

const HEIGHT_PX = 150;
/** So few points are drawn one by one as well. */
export const FEW_POINTS = 5;
/** Least span of the axis, psi. */
const LEAST_SPAN_PSI = 0.2;

/** The influences, told apart by colour and dash. */
const PARTS = [
  { name: 'temperature', colour: COLOURS.vermilion, dash: [1, 0] },
  { name: 'elevation of the strips', colour: COLOURS.blue, dash: [7, 3] },
  { name: 'permeation', colour: COLOURS.green, dash: [2, 2] },
] as const;

/**
 * What temperature, elevation and permeation each do to the pressure, as a panel.
 *
 * @param parts in order of the day.
 * @param months of the season.
 */
export function partsPanel(parts: readonly PressurePart[], months: readonly MonthSpan[]): ChartPart {
  const x = monthsAlong(months);
  const y = {
    type: 'quantitative',
    title: 'change by each alone (psi)',
    scale: { domain: changeDomain(parts), nice: true },
  };
  const names = PARTS.map(({ name }) => name);
  const legend = {
    orient: 'bottom',
    symbolType: 'stroke',
    symbolSize: 500,
    symbolStrokeWidth: 2,
    symbolOpacity: 1,
    columns: 3,
  };
  const colour = {
    field: 'part',
    type: 'nominal',
    title: null,
    scale: { domain: names, range: PARTS.map(({ colour: each }) => each) },
    legend,
  };
  const dash = {
    field: 'part',
    type: 'nominal',
    title: null,
    scale: { domain: names, range: PARTS.map(({ dash: each }) => each) },
    legend,
  };
  const detail = { field: 'stretch', type: 'nominal' };
  const isSparse = parts.length <= FEW_POINTS;
  const change = { ...y, field: 'changePsi' };
  return {
    width: PLOT_WIDTH_PX,
    height: HEIGHT_PX,
    data: chartData(partRows(parts, months)),
    layer: [
      monthRules(months),
      {
        // Of its own, as it would be drawn once for each row of the panel.
        data: chartData([{ changePsi: 0 }]),
        mark: { type: 'rule', color: '#888888', aria: false },
        encoding: { y: change },
      },
      {
        transform: [{ filter: 'isValid(datum.lowPsi)' }],
        mark: { type: 'area', opacity: 0.15, aria: false },
        encoding: { x, y: { ...y, field: 'lowPsi' }, y2: { field: 'highPsi' }, color: colour, detail },
      },
      {
        mark: { type: 'line', strokeWidth: 2, point: isSparse, aria: false },
        encoding: { x, y: change, color: colour, strokeDash: dash, detail },
      },
      {
        mark: { type: 'point', opacity: 0, size: 60, filled: true },
        encoding: {
          x,
          y: change,
          description: { field: 'said' },
          tooltip: [
            { field: 'date', title: 'date' },
            { field: 'part', title: 'by' },
            { field: 'change', title: 'change' },
            { field: 'range', title: 'range' },
          ],
        },
      },
    ],
  };
}

function partRows(parts: readonly PressurePart[], months: readonly MonthSpan[]): ChartRow[] {
  const stretches = flownStretches(
    parts.map(({ day }) => day),
    months,
  );
  const row = (
    { day, date }: PressurePart,
    part: string,
    changePa: number,
    rangePa: readonly [number, number] | null,
    what: string,
    stretch: number,
  ): ChartRow => {
    const change = pressureChangeText(changePa);
    const range =
      rangePa === null
        ? 'at the median rate'
        : `${what}: ${pressureChangeText(rangePa[0])} to ${pressureChangeText(rangePa[1])}`;
    return {
      day,
      stretch,
      part,
      changePsi: psi(changePa),
      lowPsi: rangePa === null ? null : psi(rangePa[0]),
      highPsi: rangePa === null ? null : psi(rangePa[1]),
      date,
      change,
      range,
      said: `${date}: ${part} alone ${change}; ${range}`,
    };
  };
  const [temperature, elevation, permeation] = PARTS;
  return parts.flatMap((part, index) => {
    const stretch = stretches[index]!;
    const { temperaturePa, elevationPa, permeationPa, justSet } = part;
    const { p10, p50, p90 } = temperaturePa;
    const { lowest, mean, highest } = elevationPa;
    return [
      // Just set, a tire is right whatever the air: the band would close at every check.
      ...(justSet ? [] : [row(part, temperature.name, p50, [p10, p90], '8 in 10 landings', stretch)]),
      row(part, elevation.name, mean, [lowest, highest], 'lowest to highest strip', stretch),
      row(part, permeation.name, permeationPa, null, '', stretch),
    ];
  });
}

function changeDomain(parts: readonly PressurePart[]): [number, number] {
  const all = parts.flatMap(({ temperaturePa, elevationPa, permeationPa }) => [
    temperaturePa.p10,
    temperaturePa.p90,
    elevationPa.lowest,
    elevationPa.highest,
    permeationPa,
  ]);
  const low = psi(all.reduce((a, b) => Math.min(a, b), 0));
  const high = psi(all.reduce((a, b) => Math.max(a, b), 0));
  return high - low >= LEAST_SPAN_PSI ? [low, high] : [-LEAST_SPAN_PSI / 2, LEAST_SPAN_PSI / 2];
}
