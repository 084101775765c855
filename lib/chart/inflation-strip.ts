import type { BestPressure, PressureRange, PressureSweep } from '../decide/pressure-types.js';
import { amountText } from './figures.js';
import { endText, keptLimits, psiFigure, rangeText } from './inflation-words.js';
import { pressureText } from './measures.js';
import { pressureAlong, pressureBackdrop, PRESSURE_PANEL_PX, type PressureFrame } from './pressure-frame.js';
import { chartData, COLOURS, type ChartPart, type ChartRow } from './spec.js';

const STRIP_ROW_PX = 20;

/** A range that goes on beyond the sweep goes on to the edge. */
export function drawnRange(
  { lowEnd, highEnd, lowPsi, highPsi }: PressureRange,
  [low, high]: readonly [number, number],
): readonly [number, number] {
  return [
    lowEnd.kind === 'end of the sweep' ? low : lowPsi,
    highEnd.kind === 'end of the sweep' ? high : highPsi,
  ];
}

/** Names of the rows of the strip. */
function stripNames(sweep: PressureSweep): string[] {
  const { lowestCost } = sweep;
  return [
    `${keptLimits(sweep)} kept`,
    'sensible',
    'longest life',
    ...(lowestCost === null ? [] : ['lowest cost']),
  ];
}

/**
 * Rows of the strip of ranges and best pressures.
 *
 * @param sweep of the pressure.
 * @param frame what all panels share.
 */
export function stripRows(sweep: PressureSweep, { domainPsi }: PressureFrame): ChartRow[] {
  const [limits, sensible, longest, cheapest] = stripNames(sweep);
  const { limitsRange, sensibleRange, bestLife, lowestCost, currency } = sweep;
  return [
    ...rangeRow(0, limits!, limitsRange, domainPsi),
    ...rangeRow(1, sensible!, sensibleRange, domainPsi),
    ...bestRows(2, longest!, bestLife, (difference) => `${amountText(difference)} h`, sweep),
    ...(lowestCost === null
      ? []
      : bestRows(
          3,
          cheapest!,
          lowestCost,
          (difference) => `${amountText(difference)} ${currency ?? ''} per hour`,
          sweep,
        )),
  ];
}

function rangeRow(
  place: number,
  name: string,
  range: PressureRange | null,
  domainPsi: readonly [number, number],
): ChartRow[] {
  if (range === null) return [{ place, name, said: `${name}: at no pressure looked at` }];
  const { lowEnd, highEnd } = range;
  const [lowPsi, highPsi] = drawnRange(range, domainPsi);
  return [
    {
      place,
      name,
      lowPsi,
      highPsi,
      rangeText: rangeText(range),
      belowText: endText(lowEnd),
      aboveText: endText(highEnd),
      said: `${name}: ${rangeText(range)}; below: ${endText(lowEnd)}; above: ${endText(highEnd)}`,
    },
  ];
}

function bestRows(
  place: number,
  name: string,
  best: BestPressure,
  words: (difference: number) => string,
  { points, ownPressurePa }: PressureSweep,
): ChartRow[] {
  const { estimate, lower, upper } = best.versusOwn;
  const gain =
    best.pressurePa === ownPressurePa
      ? 'its own pressure'
      : `${words(estimate)} against its own pressure (95 %: ${amountText(lower)} to ${amountText(upper)})`;
  return points
    .filter(({ pressurePa }) => pressurePa === best.pressurePa || best.notToldApartPa.includes(pressurePa))
    .map(({ pressurePa, pressurePsi }) => {
      const isBest = pressurePa === best.pressurePa;
      const text = isBest ? gain : 'not told apart from the best by the trials';
      return {
        place,
        name,
        pressurePsi,
        best: isBest,
        pressureText: pressureText(pressurePa),
        gainText: text,
        said: `${name} at ${pressureText(pressurePa)}: ${text}`,
      };
    });
}

/** Ranges and best pressures, above the panels; draws the rows of {@link stripRows}. */
export function pressureStrip(sweep: PressureSweep, frame: PressureFrame): ChartPart {
  const names = stripNames(sweep);
  const y = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: names.map((_, place) => place) },
    axis: {
      aria: false,
      title: null,
      domain: false,
      ticks: false,
      labelLimit: 0,
      labelExpr: `${JSON.stringify(names)}[datum.value]`,
    },
  };
  return {
    width: PRESSURE_PANEL_PX,
    height: { step: STRIP_ROW_PX },
    layer: [
      ...pressureBackdrop(frame, false),
      {
        data: chartData([{ pressurePsi: frame.ownPsi, label: `own ${psiFigure(frame.ownPsi)} psi` }]),
        mark: { type: 'text', dy: -8, fontSize: 11, fontWeight: 600, aria: false },
        encoding: {
          x: pressureAlong(frame, false),
          y: { value: 0 },
          text: { field: 'label', type: 'nominal' },
        },
      },
      {
        transform: [{ filter: 'isValid(datum.lowPsi)' }],
        mark: { type: 'bar', color: COLOURS.green, height: 9, cornerRadius: 2 },
        encoding: {
          y,
          x: { ...pressureAlong(frame, false), field: 'lowPsi' },
          x2: { field: 'highPsi' },
          opacity: { condition: { test: 'datum.place === 0', value: 0.4 }, value: 0.9 },
          description: { field: 'said' },
          tooltip: [
            { field: 'name', type: 'nominal', title: 'range' },
            { field: 'rangeText', type: 'nominal', title: 'cold pressure' },
            { field: 'belowText', type: 'nominal', title: 'below it' },
            { field: 'aboveText', type: 'nominal', title: 'above it' },
          ],
        },
      },
      {
        transform: [{ filter: 'isValid(datum.rangeText)' }],
        mark: { type: 'text', align: 'left', fontSize: 11, aria: false },
        encoding: {
          y,
          x: { value: PRESSURE_PANEL_PX + 8 },
          text: { field: 'rangeText', type: 'nominal' },
        },
      },
      {
        transform: [{ filter: 'isValid(datum.pressurePsi)' }],
        mark: { type: 'point', filled: true, color: COLOURS.blue, opacity: 1 },
        encoding: {
          y,
          x: pressureAlong(frame, false),
          shape: { condition: { test: 'datum.best', value: 'diamond' }, value: 'circle' },
          size: { condition: { test: 'datum.best', value: 90 }, value: 16 },
          description: { field: 'said' },
          tooltip: [
            { field: 'name', type: 'nominal', title: 'best' },
            { field: 'pressureText', type: 'nominal', title: 'cold pressure' },
            { field: 'gainText', type: 'nominal', title: 'how much' },
          ],
        },
      },
      {
        transform: [{ filter: '!isValid(datum.lowPsi) && !isValid(datum.pressurePsi)' }],
        mark: { type: 'text', align: 'left', fontSize: 11 },
        encoding: {
          y,
          x: { value: 6 },
          text: { value: 'at no pressure looked at' },
          description: { field: 'said' },
        },
      },
    ],
  };
}
