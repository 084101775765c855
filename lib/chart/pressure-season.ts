import type { PressurePart } from '../estimate/pressure-parts.js';
import type { PressureSeason } from '../estimate/pressure-season.js';
import { capitalized, percentText } from '../present/words.js';
import { shortName } from './labels.js';
import { levelLayers, pressureLevels } from './levels.js';
import { counted, pressureChangeText, pressureText, psi, psiText, rounded } from './measures.js';
import { FEW_POINTS, partsPanel } from './pressure-parts-panel.js';
import { flownStretches, monthsAlong, monthRules } from './month-axis.js';
import {
  chartData,
  COLOURS,
  FAINT_INK,
  makeChart,
  PLOT_WIDTH_PX,
  type ChartPart,
  type ChartRow,
  type ChartSpec,
  type ChartWords,
} from './spec.js';
import { CHART_CAUTION, provenance } from './words.js';

const PRESSURE_HEIGHT_PX = 230;
/** More checks than this are told, not drawn. */
const MOST_CHECK_LINES = 60;

/**
 * Chart of gauge pressure over the season, and of what temperature, elevation and permeation each do to it.
 *
 * @param season from `pressureSeason`.
 * @returns a Vega-Lite specification of two panels over the same dates.
 */
export function pressureSeasonChart(season: PressureSeason): ChartSpec {
  return makeChart(words(season), [], {
    spacing: 26,
    vconcat: [pressurePanel(season), partsPanel(season.parts, season.months)],
  });
}

function pressurePanel(season: PressureSeason): ChartPart {
  const { months, points, checkDays, wheel } = season;
  const x = monthsAlong(months, { labels: false, title: null });
  const domain = pressureDomain(season);
  const y = {
    type: 'quantitative',
    title: `gauge pressure, ${wheel} (psi)`,
    scale: { domain, zero: false, nice: false },
  };
  const stretches = flownStretches(
    points.map(({ day }) => day),
    months,
  );
  const rows = points.map((point, index): ChartRow => {
    const { day, date, firstLanding, lastLanding, gaugePa } = point;
    const landings = firstLanding === lastLanding ? `${firstLanding}` : `${firstLanding} to ${lastLanding}`;
    const range = `${pressureText(gaugePa.p10)} to ${pressureText(gaugePa.p90)}`;
    return {
      day,
      stretch: stretches[index]!,
      p10Psi: psi(gaugePa.p10),
      p50Psi: psi(gaugePa.p50),
      p90Psi: psi(gaugePa.p90),
      date,
      landings,
      median: pressureText(gaugePa.p50),
      range,
      said: `${date}, landing ${landings}: ${pressureText(gaugePa.p50)}, 8 in 10 landings ${range}`,
    };
  });
  const detail = { field: 'stretch', type: 'nominal' };
  const isSparse = points.length <= FEW_POINTS;
  const drawnChecks = checkDays.length > MOST_CHECK_LINES ? [] : checkDays;
  return {
    width: PLOT_WIDTH_PX,
    height: PRESSURE_HEIGHT_PX,
    data: chartData(rows),
    layer: [
      monthRules(months),
      {
        data: chartData(drawnChecks.map((day) => ({ day }))),
        mark: { type: 'rule', strokeDash: [1, 3], color: FAINT_INK, aria: false },
        encoding: { x },
      },
      {
        mark: { type: 'area', color: COLOURS.blue, opacity: 0.2, aria: false },
        encoding: { x, y: { ...y, field: 'p10Psi' }, y2: { field: 'p90Psi' }, detail },
      },
      {
        mark: { type: 'line', color: COLOURS.blue, strokeWidth: 2, point: isSparse, aria: false },
        encoding: { x, y: { ...y, field: 'p50Psi' }, detail },
      },
      // A single point has no area.
      ...(isSparse
        ? [
            {
              mark: { type: 'rule', color: COLOURS.blue, opacity: 0.4, strokeWidth: 6, aria: false },
              encoding: { x, y: { ...y, field: 'p10Psi' }, y2: { field: 'p90Psi' } },
            },
          ]
        : []),
      ...levelLayers(pressureLevels(season.coldPa, season.lowPa), y, domain, PRESSURE_HEIGHT_PX),
      {
        mark: { type: 'point', opacity: 0, size: 80, filled: true },
        encoding: {
          x,
          y: { ...y, field: 'p50Psi' },
          description: { field: 'said' },
          tooltip: [
            { field: 'date', title: 'date' },
            { field: 'landings', title: 'landing' },
            { field: 'median', title: 'half of the landings above' },
            { field: 'range', title: '8 in 10 landings' },
          ],
        },
      },
    ],
  };
}

function pressureDomain({ points, coldPa, lowPa }: PressureSeason): [number, number] {
  const all = points.flatMap(({ gaugePa }) => [gaugePa.p10, gaugePa.p90]);
  const low = all.reduce((a, b) => Math.min(a, b), lowPa);
  const high = all.reduce((a, b) => Math.max(a, b), coldPa);
  const room = 0.06 * (high - low);
  return [psi(Math.max(0, low - room)), psi(high + room)];
}

/** Largest change that each influence makes, Pa. */
function largestChanges(parts: readonly PressurePart[]): { name: string; changePa: number }[] {
  const largest = (change: (part: PressurePart) => number): number =>
    parts.reduce((most, part) => (Math.abs(change(part)) > Math.abs(most) ? change(part) : most), 0);
  return [
    {
      name: 'temperature',
      changePa: largest(({ temperaturePa: { p10, p90 } }) => (Math.abs(p10) > Math.abs(p90) ? p10 : p90)),
    },
    {
      name: 'elevation',
      changePa: largest(({ elevationPa: { lowest, highest } }) =>
        Math.abs(lowest) > Math.abs(highest) ? lowest : highest,
      ),
    },
    { name: 'permeation', changePa: largest(({ permeationPa }) => permeationPa) },
  ];
}

function words(season: PressureSeason): ChartWords {
  const { setup, mix, wheel, points, parts, lowShare, coldPa, lowPa, trials, seed } = season;
  const changes = largestChanges(parts);
  const most = changes.reduce((a, b) => (Math.abs(b.changePa) > Math.abs(a.changePa) ? b : a));
  const pairing = `${shortName(setup)} on ${shortName(mix)}`;
  const found = lowShare === 0 ? 'no landing finds' : `${percentText(lowShare)} of landings find`;
  const checks = season.checkDays.length > MOST_CHECK_LINES ? 'Checked' : 'Dotted lines: checks,';
  const every =
    season.checkEveryDays === 1 ? 'every day' : `every ${counted(rounded(season.checkEveryDays, 1), 'day')}`;
  const lowest = points.reduce((a, b) => (b.gaugePa.p10 < a.gaugePa.p10 ? b : a));
  return {
    title:
      `${pairing}: ${found} the ${wheel} tire low, under ${psiText(lowPa)}; ` +
      (psi(most.changePa) === 0 ? 'nothing moves it' : `${most.name} moves it most`),
    subtitle: [
      `As met at the strips. Shaded: 8 in 10 landings (for elevation: lowest to highest strip). ${checks} ${every}.`,
      provenance({ trials, seed }),
      CHART_CAUTION,
    ],
    description:
      `Gauge pressure of the ${wheel} tire of ${pairing} over the season, set cold to ${pressureText(coldPa)} at checks ${every}. ` +
      `${capitalized(found)} it under ${pressureText(lowPa)}, where a reading counts as low. ` +
      `The lowest stretch is about ${lowest.date}: half of the landings find ${pressureText(lowest.gaugePa.p50)} or less, ` +
      `one in ten ${pressureText(lowest.gaugePa.p10)} or less. ` +
      `Largest change by each influence alone: ${changes.map(({ name, changePa }) => `${name} ${pressureChangeText(changePa)}`).join(', ')}.`,
  };
}
