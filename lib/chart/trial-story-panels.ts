import type { CourseStep, GroundSpan } from '../estimate/story-course.js';
import { percentText } from '../present/words.js';
import { amountText } from './figures.js';
import { LABEL_LINE_PX, mostLines, nameAxis, ROW_LABEL_PX, shortName } from './labels.js';
import { hoursAxis, landingsAlong, type LandingHours } from './landing-axis.js';
import { levelLayers, type Level } from './levels.js';
import { depthText, millimetres, pressureText, psi } from './measures.js';
import { chartData, COLOURS, FAINT_INK, PLOT_WIDTH_PX, type ChartPart, type ChartRow } from './spec.js';
import { COLOUR_BY_BAND, DASH_BY_BAND, TREAD_BANDS } from './tread-bands.js';

const TREAD_HEIGHT_PX = 190;
const PRESSURE_HEIGHT_PX = 120;
const GROUND_ROW_PX = 20;
const GROUND_BAR_PX = 14;

/** What the panels of a story need besides its steps. */
export interface StoryScale {
  /** Landing at the right end. */
  readonly last: number;
  /** Name of the wheel whose tread and pressure are shown. */
  readonly wheel: string;
}

/**
 * Tread left on the centre and on the worse shoulder, tire after tire, with flight hours along the top.
 *
 * @param steps of the wheel.
 * @param newRubberM rubber above the cords of a new tire, m.
 * @param levels tread limit and cords.
 * @param scale of the story.
 */
export function treadPanel(
  steps: readonly CourseStep[],
  newRubberM: number,
  levels: readonly Level[],
  { last, wheel }: StoryScale,
): ChartPart {
  const lowest = steps.reduce(
    (low, { centreLeftM, shoulderLeftM }) => Math.min(low, centreLeftM, shoulderLeftM),
    0,
  );
  const domain: readonly [number, number] = [millimetres(lowest), millimetres(newRubberM)];
  const y = {
    type: 'quantitative',
    title: ['rubber left,', `${wheel} (mm)`],
    scale: { domain, nice: false },
  };
  const left = { ...y, field: 'leftMm' };
  const along = landingsAlong(last, null);
  const path: LandingHours[] = [
    { landings: 0, flightHours: 0 },
    ...steps.map(({ lastLanding, flightHours }) => ({ landings: lastLanding, flightHours })),
  ];
  return {
    width: PLOT_WIDTH_PX,
    height: TREAD_HEIGHT_PX,
    data: chartData(treadRows(steps, newRubberM)),
    resolve: { axis: { x: 'independent' } },
    layer: [
      {
        mark: { type: 'line', strokeWidth: 2, aria: false },
        encoding: {
          x: landingsAlong(last, hoursAxis(path)),
          y: left,
          color: COLOUR_BY_BAND,
          strokeDash: DASH_BY_BAND,
          detail: { field: 'tire', type: 'nominal' },
        },
      },
      ...levelLayers(levels, y, domain, TREAD_HEIGHT_PX),
      {
        mark: { type: 'point', opacity: 0, filled: true, size: 60 },
        encoding: {
          x: along,
          y: left,
          description: { field: 'said' },
          tooltip: [
            { field: 'after', title: 'after' },
            { field: 'band', title: 'where' },
            { field: 'left', title: 'rubber left' },
            { field: 'tireName', title: 'tire' },
          ],
        },
      },
    ],
  };
}

function treadRows(steps: readonly CourseStep[], newRubberM: number): ChartRow[] {
  const row = (
    landings: number,
    hours: number | null,
    tire: number,
    band: string,
    leftM: number,
  ): ChartRow => {
    const after =
      hours === null
        ? `landing ${landings.toLocaleString('en-US')}, new`
        : `landing ${landings.toLocaleString('en-US')} (${amountText(hours)} h)`;
    return {
      landings,
      tire,
      band,
      leftMm: millimetres(leftM),
      after,
      left: depthText(leftM),
      tireName: `number ${tire} on this wheel`,
      said: `${after}: ${band} ${depthText(leftM)} left, tire ${tire} on this wheel`,
    };
  };
  return steps.flatMap((step, index) => {
    const { firstLanding, lastLanding, flightHours, tire } = step;
    const isNew = index === 0 || steps[index - 1]!.tire !== tire;
    const both = [step.centreLeftM, step.shoulderLeftM] as const;
    return TREAD_BANDS.flatMap((band, k) => [
      ...(isNew ? [row(firstLanding - 1, null, tire, band, newRubberM)] : []),
      row(lastLanding, flightHours, tire, band, both[k]!),
    ]);
  });
}

/**
 * Gauge pressure as met at the strips: lowest to highest of a few landings, with the checks.
 *
 * @param steps of the wheel.
 * @param levels cold setting and low.
 * @param scale of the story.
 */
export function gaugePanel(
  steps: readonly CourseStep[],
  levels: readonly Level[],
  { last, wheel }: StoryScale,
): ChartPart {
  const rows = steps.map(({ firstLanding, lastLanding, flightHours, gaugePa, checked }): ChartRow => {
    const one = firstLanding === lastLanding;
    const when = one
      ? `landing ${lastLanding.toLocaleString('en-US')} (${amountText(flightHours)} h)`
      : `landings ${firstLanding.toLocaleString('en-US')} to ${lastLanding.toLocaleString('en-US')}`;
    const found = one
      ? pressureText(gaugePa.mean)
      : `${pressureText(gaugePa.lowest)} to ${pressureText(gaugePa.highest)}`;
    return {
      landings: (firstLanding + lastLanding) / 2,
      lowestPsi: psi(gaugePa.lowest),
      meanPsi: psi(gaugePa.mean),
      highestPsi: psi(gaugePa.highest),
      checked,
      when,
      found,
      set: checked ? 'yes, before' : 'no',
      said: `${when}: ${found}${checked ? ', checked and set before' : ''}`,
    };
  });
  const all = [
    ...levels.map(({ value }) => value),
    ...steps.flatMap(({ gaugePa }) => [psi(gaugePa.lowest), psi(gaugePa.highest)]),
  ];
  const low = all.reduce((a, b) => Math.min(a, b));
  const high = all.reduce((a, b) => Math.max(a, b));
  const room = 0.08 * (high - low);
  const domain: readonly [number, number] = [Math.max(0, low - 3 * room), high + room];
  const y = {
    type: 'quantitative',
    title: ['gauge pressure,', `${wheel} (psi)`],
    scale: { domain, zero: false, nice: false },
  };
  const x = landingsAlong(last, null);
  return {
    width: PLOT_WIDTH_PX,
    height: PRESSURE_HEIGHT_PX,
    data: chartData(rows),
    layer: [
      ...levelLayers(levels, y, domain, PRESSURE_HEIGHT_PX),
      {
        mark: { type: 'area', color: COLOURS.blue, opacity: 0.25, aria: false },
        encoding: { x, y: { ...y, field: 'lowestPsi' }, y2: { field: 'highestPsi' } },
      },
      {
        mark: { type: 'line', color: COLOURS.blue, strokeWidth: 1.2, aria: false },
        encoding: { x, y: { ...y, field: 'meanPsi' } },
      },
      {
        transform: [{ filter: 'datum.checked' }],
        mark: {
          type: 'point',
          shape: 'triangle-up',
          filled: true,
          size: 34,
          opacity: 1,
          color: FAINT_INK,
          aria: false,
        },
        encoding: { x, y: { value: PRESSURE_HEIGHT_PX - 5 } },
      },
      {
        data: chartData([{ label: '\u25b2 check' }]),
        mark: { type: 'text', align: 'left', baseline: 'middle', dx: 6, color: FAINT_INK, aria: false },
        encoding: {
          x: { value: PLOT_WIDTH_PX },
          y: { value: PRESSURE_HEIGHT_PX - 5 },
          text: { field: 'label' },
        },
      },
      {
        mark: { type: 'point', opacity: 0, filled: true, size: 60 },
        encoding: {
          x,
          y: { ...y, field: 'meanPsi' },
          description: { field: 'said' },
          tooltip: [
            { field: 'when', title: 'when' },
            { field: 'found', title: 'gauge pressure' },
            { field: 'set', title: 'checked and set' },
          ],
        },
      },
    ],
  };
}

/**
 * On what the airplane landed: a row for each surface of the landing roll, the darker the more often.
 *
 * @param ground spans of landings.
 * @param last landing at the right end.
 */
export function groundPanel(ground: readonly GroundSpan[], last: number): ChartPart {
  const names = [...new Set(ground.map(({ surface }) => surface))].sort();
  const rows = ground.map(({ firstLanding, lastLanding, surface, share }): ChartRow => {
    const when =
      firstLanding === lastLanding
        ? `landing ${lastLanding.toLocaleString('en-US')}`
        : `landings ${firstLanding.toLocaleString('en-US')} to ${lastLanding.toLocaleString('en-US')}`;
    return {
      landings: firstLanding - 1,
      lastLanding,
      place: names.indexOf(surface),
      share,
      surface,
      when,
      often: percentText(share),
      said: `${when}: ${percentText(share)} on ${shortName(surface)}`,
    };
  });
  const rowPx = Math.max(GROUND_ROW_PX, LABEL_LINE_PX * mostLines(names, ROW_LABEL_PX) + 4);
  return {
    width: PLOT_WIDTH_PX,
    height: rowPx * names.length,
    data: chartData(rows),
    mark: { type: 'bar', orient: 'horizontal', height: GROUND_BAR_PX, color: '#444444' },
    encoding: {
      x: landingsAlong(last, null),
      x2: { field: 'lastLanding' },
      y: {
        field: 'place',
        type: 'ordinal',
        scale: { domain: names.map((_, place) => place), paddingInner: 0, paddingOuter: 0 },
        axis: nameAxis(names),
      },
      opacity: {
        field: 'share',
        type: 'quantitative',
        scale: { domain: [0, 1], range: [0, 1] },
        legend: null,
      },
      description: { field: 'said' },
      tooltip: [
        { field: 'when', title: 'when' },
        { field: 'surface', title: 'surface of the landing roll' },
        { field: 'often', title: 'share of the landings' },
      ],
    },
  };
}
