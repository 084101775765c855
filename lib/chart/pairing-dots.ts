import type { PairingSummary } from '../estimate/summary.js';
import { amountText, percentSpan } from './figures.js';
import { amountRange, logRange, type AxisRange } from './log-axis.js';
import { mixBlocks, type MixPanel } from './mix-blocks.js';
import { pairingKey } from './pairing-key.js';
import { followedHours, type PairingOrder } from './pairing-rows.js';
import { COLOURS, type ChartPart } from './spec.js';

const PANEL_PX = 260;
/** Between the figures beside a panel and the next panel. */
const PANEL_GAP_PX = 28;

/** Chances below are not told apart: common practice, no source. */
const LEAST_CHANCE = 1e-6;

const LIFE_FIELDS = {
  range: ['lifeP10Hours', 'lifeP90Hours'],
  error: ['lifeP50LowerHours', 'lifeP50UpperHours'],
  estimate: 'lifeP50Hours',
  text: 'lifeText',
  said: 'lifeSaid',
  leads: 'longest',
} as const;

const RISK_FIELDS = {
  range: ['flatP10Chance', 'flatP90Chance'],
  error: ['flatLowerChance', 'flatUpperChance'],
  estimate: 'flatChance',
  text: 'flatText',
  said: 'flatSaid',
  leads: 'fewest',
} as const;

/** What is read when pointing at a life. */
export const LIFE_TOOLTIP: readonly ChartPart[] = [
  { field: 'setup', type: 'nominal', title: 'set-up' },
  { field: 'mix', type: 'nominal', title: 'runway mix' },
  { field: 'lifeText', type: 'nominal', title: 'median life' },
  { field: 'lifeRange', type: 'nominal', title: '8 sets in 10 last' },
  { field: 'lifeError', type: 'nominal', title: 'simulation error of the median, 95 %' },
];

/** What is read when pointing at a chance of a flat. */
export const RISK_TOOLTIP: readonly ChartPart[] = [
  { field: 'setup', type: 'nominal', title: 'set-up' },
  { field: 'mix', type: 'nominal', title: 'runway mix' },
  { field: 'flatSeasons', type: 'nominal', title: 'chance of a flat in a season' },
  { field: 'flatRange', type: 'nominal', title: '8 worlds in 10 (ignorance)' },
  { field: 'flatError', type: 'nominal', title: 'simulation error, 95 %' },
  { field: 'flatsSeen', type: 'nominal', title: 'seasons with a flat, seen' },
];

/**
 * Two panels of dots with intervals, a row for each set-up in a block for each mix: life at the left, chance of a flat
 * at the right.
 *
 * @param pairings of the result.
 * @param order of the names.
 * @param seasonLandings landings in a season.
 */
export function pairingDots(
  pairings: readonly PairingSummary[],
  order: PairingOrder,
  seasonLandings: number,
): ChartPart {
  const life = amountRange(lifeValues(pairings), PANEL_PX, 40);
  const risk = logRange(riskValues(pairings), [LEAST_CHANCE, 1], PANEL_PX, 42);
  const lifePanel = panel({
    title: 'How long the main tires last',
    axisTitle: `flight hours (h)${life.type === 'log' ? ', log scale' : ''}`,
    axis: {
      labelExpr: "format(datum.value, ',.12~g')",
      description: `flight hours from ${life.domain.map(amountText).join(' to ')}`,
    },
    range: life,
    colour: COLOURS.blue,
    shape: 'circle',
    fields: LIFE_FIELDS,
    tooltip: LIFE_TOOLTIP,
  });
  const riskPanel = panel({
    title: `Chance of a flat in a season of ${seasonLandings} landings`,
    axisTitle: 'chance of a flat (%), log scale',
    axis: {
      labelExpr: "format(100 * datum.value, '.2~r') + ' %'",
      description: `chance of a flat in a season from ${percentSpan(...risk.domain)}, log scale`,
    },
    range: risk,
    colour: COLOURS.vermilion,
    shape: 'diamond',
    fields: RISK_FIELDS,
    tooltip: RISK_TOOLTIP,
  });
  const open = pairings.some(({ life: { hours } }) => hours.p90 === null);
  const none = pairings.some(({ puncture }) => puncture.season.estimate === 0);
  const tiny = pairings.some(
    ({ puncture: { season, acrossWorlds } }) => season.estimate > 0 && acrossWorlds.p10 < LEAST_CHANCE,
  );
  return {
    vconcat: [
      {
        spacing: PANEL_GAP_PX,
        hconcat: [mixBlocks(lifePanel, order, true), mixBlocks(riskPanel, order, false)],
      },
      pairingKey({ open, none, tiny }),
    ],
    spacing: 16,
  };
}

function lifeValues(pairings: readonly PairingSummary[]): number[] {
  return pairings.flatMap((pairing) => {
    const { p10, p50, p90, intervals } = pairing.life.hours;
    const known = [p10, p50, p90, intervals.p50.lower, intervals.p50.upper].filter((value) => value !== null);
    return p90 === null ? [...known, followedHours(pairing)] : known;
  });
}

function riskValues(pairings: readonly PairingSummary[]): number[] {
  return pairings.flatMap(({ puncture: { season, acrossWorlds } }) => [
    season.estimate,
    season.lower,
    season.upper,
    acrossWorlds.p10,
    acrossWorlds.p90,
    // Nothing was seen: room for a bar that reaches down to nothing.
    season.estimate === 0 ? season.upper / 20 : 0,
  ]);
}

interface Panel {
  readonly title: string;
  readonly axisTitle: string;
  readonly axis: ChartPart;
  readonly range: AxisRange;
  readonly colour: string;
  readonly shape: 'circle' | 'diamond';
  readonly fields: typeof LIFE_FIELDS | typeof RISK_FIELDS;
  readonly tooltip: readonly ChartPart[];
}

function panel({ title, axisTitle, axis, range, colour, shape, fields, tooltip }: Panel): MixPanel {
  const [start, end] = range.domain;
  const { type, domain, ticks } = range;
  // Beyond the ends of the axis there is nothing to see: marks stop there, and triangles say that they do.
  const inside = (field: string, missing: number): string =>
    `isValid(datum.${field}) ? clamp(datum.${field}, ${start}, ${end}) : ${missing}`;
  const [from, to] = fields.range;
  const [lower, upper] = fields.error;
  const { estimate } = fields;
  const seen = `isValid(datum.${estimate}) && datum.${estimate} >= ${start}`;
  const spec = {
    width: PANEL_PX,
    transform: [
      { calculate: inside(from, end), as: 'from' },
      { calculate: inside(to, end), as: 'to' },
      { calculate: inside(lower, end), as: 'lower' },
      { calculate: inside(upper, end), as: 'upper' },
    ],
    layer: [
      {
        mark: { type: 'rule', color: colour, strokeWidth: 1.5, aria: false },
        encoding: {
          x: {
            field: 'from',
            type: 'quantitative',
            title: axisTitle,
            scale: { type, domain, nice: false },
            axis: { grid: true, ...axis, ...(ticks === null ? { tickCount: 5 } : { values: ticks }) },
          },
          x2: { field: 'to' },
        },
      },
      {
        mark: { type: 'rule', color: colour, strokeWidth: 7, opacity: 0.45, aria: false },
        encoding: { x: { field: 'lower', type: 'quantitative' }, x2: { field: 'upper' } },
      },
      {
        transform: [{ filter: seen }],
        mark: { type: 'point', filled: true, shape, size: 46, color: colour, opacity: 1, aria: false },
        encoding: { x: { field: estimate, type: 'quantitative' } },
      },
      {
        transform: [{ filter: `!isValid(datum.${to})` }],
        mark: triangle('triangle-right', colour, 4),
        encoding: { x: { datum: end } },
      },
      {
        transform: [{ filter: `isValid(datum.${from}) && datum.${from} < ${start}` }],
        mark: triangle('triangle-left', colour, -4),
        encoding: { x: { datum: start } },
      },
      {
        mark: {
          type: 'text',
          align: 'left',
          aria: false,
          fontWeight: { expr: `datum.${fields.leads} ? 'bold' : 'normal'` },
        },
        encoding: { x: { value: PANEL_PX + 12 }, text: { field: fields.text, type: 'nominal' } },
      },
      {
        // The whole row answers to the pointer and to a screen reader, whatever is drawn in it.
        mark: { type: 'bar', opacity: 0 },
        encoding: { x: { value: 0 }, x2: { value: PANEL_PX }, description: { field: fields.said }, tooltip },
      },
    ],
  };
  return { title, spec };
}

function triangle(shape: string, color: string, xOffset: number): ChartPart {
  return { type: 'point', filled: true, shape, size: 50, color, opacity: 1, xOffset, aria: false };
}
