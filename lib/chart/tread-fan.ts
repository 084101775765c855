import type { LifeFigures, LifeSummary } from '../estimate/life.js';
import type { QuantileBand } from '../estimate/quantile-band.js';
import type { TreadFan, TreadFanPoint } from '../estimate/tread-fan.js';
import { amountText } from './figures.js';
import { shortName } from './labels.js';
import { hoursAxis, landingsAlong, type LandingHours } from './landing-axis.js';
import { levelLayers, treadLevels } from './levels.js';
import { counted, depthText, millimetres } from './measures.js';
import {
  chartData,
  INK,
  makeChart,
  PLOT_HEIGHT_PX,
  PLOT_WIDTH_PX,
  type ChartPart,
  type ChartRow,
  type ChartSpec,
} from './spec.js';
import { COLOUR_BY_BAND, DASH_BY_BAND, TREAD_BANDS } from './tread-bands.js';
import { CHART_CAUTION, provenance } from './words.js';

/** Bands that end within this share of each other are worn evenly. */
const EVEN_SHARE = 0.05;

/**
 * Chart of what is left of the tread against landings: centre and shoulders, with tread limit and cords.
 *
 * @param fan from `treadFan` or `recordTreadFan`.
 * @returns a Vega-Lite specification.
 */
export function treadFanChart(fan: TreadFan): ChartSpec {
  const last = lastLanding(fan);
  const domain = [0, millimetres(fan.newRubberM)] as const;
  const y = {
    type: 'quantitative',
    title: 'rubber left above the cords (mm)',
    scale: { domain, nice: true },
  };
  const along = landingsAlong(last, null);
  return makeChart(treadFanWords(fan), bandRows(fan), {
    width: PLOT_WIDTH_PX,
    height: PLOT_HEIGHT_PX,
    resolve: { axis: { x: 'independent' } },
    layer: [
      {
        mark: { type: 'area', opacity: 0.16, aria: false },
        encoding: {
          x: landingsAlong(last),
          y: { ...y, field: 'p10Mm' },
          y2: { field: 'p90Mm' },
          color: COLOUR_BY_BAND,
        },
      },
      ...(['p10Mm', 'p90Mm'] as const).map((field) => ({
        mark: { type: 'line', strokeWidth: 0.8, opacity: 0.8, aria: false },
        encoding: { x: along, y: { ...y, field }, color: COLOUR_BY_BAND, strokeDash: DASH_BY_BAND },
      })),
      {
        mark: { type: 'line', strokeWidth: 2.5, aria: false },
        encoding: { x: along, y: { ...y, field: 'p50Mm' }, color: COLOUR_BY_BAND, strokeDash: DASH_BY_BAND },
      },
      ...levelLayers(treadLevels(fan.limitRubberM, fan.removedAt), y, domain, PLOT_HEIGHT_PX),
      ...readingLayers(fan, last, y),
      {
        mark: { type: 'point', opacity: 0, size: 90, filled: true },
        encoding: {
          x: landingsAlong(last, hoursAxis(hoursPath(fan))),
          y: { ...y, field: 'p50Mm' },
          description: { field: 'said' },
          tooltip: [
            { field: 'after', title: 'after' },
            { field: 'band', title: 'where' },
            { field: 'median', title: 'left on half of the sets' },
            { field: 'range', title: '8 of 10 sets' },
          ],
        },
      },
    ],
  });
}

/** Right end of the chart: that of the fan, or of the span in which eight sets in ten reach the tread limit. */
function lastLanding({ points, treadLimit, cords }: TreadFan): number {
  const ends = [points[points.length - 1]!.landings, treadLimit.landings.p90, cords.landings.p50];
  return Math.max(...ends.map((end) => end ?? 0));
}

/** Landings and hours along the whole chart. */
function hoursPath({ points, treadLimit, cords }: TreadFan): LandingHours[] {
  const path: LandingHours[] = points.map(({ landings, flightHours }) => ({ landings, flightHours }));
  const ends = [readingAt(cords, 'p50'), readingAt(treadLimit, 'p90')];
  for (const end of ends) {
    const last = path[path.length - 1]!;
    if (end !== null && end.landings > last.landings && end.flightHours >= last.flightHours) path.push(end);
  }
  return path;
}

function readingAt({ landings, hours }: LifeSummary, figure: 'p10' | 'p50' | 'p90'): LandingHours | null {
  const [landing, flightHours] = [landings[figure], hours[figure]];
  return landing === null || flightHours === null ? null : { landings: landing, flightHours };
}

function bandRows({ points }: TreadFan): ChartRow[] {
  const row = ({ landings, flightHours }: TreadFanPoint, band: string, left: QuantileBand): ChartRow => {
    const after = `${counted(landings, 'landing')}, ${amountText(flightHours)} h`;
    return {
      landings,
      band,
      p10Mm: millimetres(left.p10),
      p50Mm: millimetres(left.p50),
      p90Mm: millimetres(left.p90),
      after,
      median: depthText(left.p50),
      range: spanText(left),
      said: `${band} after ${after}: ${bandText(left)}`,
    };
  };
  return points.flatMap((point) => [
    row(point, TREAD_BANDS[0], point.centreLeftM),
    row(point, TREAD_BANDS[1], point.shoulderLeftM),
  ]);
}

/** On the lines of tread limit and cords: the spans of landings in which eight sets in ten come to them. */
function readingLayers(fan: TreadFan, last: number, y: ChartPart): ChartPart[] {
  const data = chartData([
    readingRow('tread limit', fan.limitRubberM, fan.treadLimit, last),
    readingRow('cords', 0, fan.cords, last),
  ]);
  const along = landingsAlong(last, null);
  const level = { ...y, field: 'leftMm' };
  const transform = [{ filter: 'isValid(datum.p50Landings)' }];
  return [
    {
      data,
      transform,
      mark: { type: 'rule', color: INK, strokeWidth: 5, opacity: 0.55, aria: false },
      encoding: { x: { ...along, field: 'p10Landings' }, x2: { field: 'endLandings' }, y: level },
    },
    {
      data,
      transform,
      mark: {
        type: 'point',
        shape: 'diamond',
        filled: true,
        color: INK,
        opacity: 1,
        size: 110,
        stroke: 'white',
        strokeWidth: 1,
      },
      encoding: {
        x: { ...along, field: 'p50Landings' },
        y: level,
        description: { field: 'said' },
        tooltip: [
          { field: 'reading', title: 'reading' },
          { field: 'half', title: 'half of the sets by' },
          { field: 'span', title: '8 of 10 sets' },
        ],
      },
    },
  ];
}

function readingRow(reading: string, leftM: number, life: LifeSummary, last: number): ChartRow {
  const { p10, p50, p90 } = life.landings;
  return {
    reading,
    leftMm: millimetres(leftM),
    p10Landings: p10,
    p50Landings: p50,
    endLandings: Math.min(p90 ?? last, last),
    half: halfText(life),
    span: spanOf(life.landings),
    said: `${reading}: ${readingText(life, 'come to it').sentence}`,
  };
}

function halfText(reading: LifeSummary): string {
  const half = readingAt(reading, 'p50');
  return half === null
    ? 'beyond the horizon'
    : `${counted(Math.round(half.landings), 'landing')}, ${amountText(half.flightHours)} h`;
}

function spanOf({ p10, p90 }: LifeFigures): string {
  if (p10 === null) return 'beyond the horizon';
  const end = p90 === null ? 'beyond the horizon' : counted(Math.round(p90), 'landing');
  return `${Math.round(p10).toLocaleString('en-US')} to ${end}`;
}

function treadFanWords(fan: TreadFan): { title: string; subtitle: string[]; description: string } {
  const { setup, mix, points, treadLimit, cords, trials, seed } = fan;
  const pairing = `${shortName(setup)} on ${shortName(mix)}`;
  const last = points[points.length - 1]!;
  const limit = readingText(treadLimit, 'reach the tread limit');
  const title = `${pairing}, by wear alone: ${limit.title}; ${firstWorn(last, fan.newRubberM)}`;
  return {
    title,
    subtitle: [
      `The worse of the two main tires. Shaded and bars: 8 sets in 10; lines and diamonds: half.${cords.landings.p50 === null ? '' : ' It ends where half of the sets show cords.'}`,
      provenance({ trials, seed }),
      CHART_CAUTION,
    ],
    description:
      `Rubber left above the cords of the main tires of ${pairing} against landings, from ${depthText(fan.newRubberM)} when new. ` +
      `After ${counted(last.landings, 'landing')} (${amountText(last.flightHours)} h) the centre has ${bandText(last.centreLeftM)}, ` +
      `the worst shoulder ${bandText(last.shoulderLeftM)}. ${limit.sentence}. ${readingText(cords, 'show cords').sentence}.`,
  };
}

/** How soon half of the sets come to a reading, for a title and as a sentence. */
function readingText(reading: LifeSummary, verb: string): { title: string; sentence: string } {
  const half = readingAt(reading, 'p50');
  if (half === null) {
    const few = `ewer than half of the sets ${verb} within the horizon`;
    return { title: `f${few}`, sentence: `F${few} (8 of 10: ${spanOf(reading.landings)})` };
  }
  const landings = Math.round(half.landings).toLocaleString('en-US');
  return {
    title: `half of the sets ${verb} by ${landings} landings (${amountText(half.flightHours)} h)`,
    sentence: `Half of the sets ${verb} by ${halfText(reading)} (8 of 10: ${spanOf(reading.landings)})`,
  };
}

function bandText(left: QuantileBand): string {
  return `${(1000 * left.p50).toFixed(1)} mm (8 of 10 sets: ${spanText(left)})`;
}

function spanText({ p10, p90 }: QuantileBand): string {
  return `${(1000 * p10).toFixed(1)} to ${(1000 * p90).toFixed(1)} mm`;
}

/** Which band wears ahead, at the end of the fan. */
function firstWorn({ centreLeftM, shoulderLeftM }: TreadFanPoint, newRubberM: number): string {
  const [centre, shoulder] = [newRubberM - centreLeftM.p50, newRubberM - shoulderLeftM.p50];
  if (Math.max(centre, shoulder) <= 0) return 'no rubber is worn off';
  if (Math.abs(centre - shoulder) <= EVEN_SHARE * Math.max(centre, shoulder)) return 'the tread wears evenly';
  return centre > shoulder ? 'the centre wears ahead' : 'the shoulders wear ahead';
}
