import { END_CAUSES } from '../estimate/curves.js';
import type { PairingSummary } from '../estimate/summary.js';
import { UsageError } from '../problems.js';
import type { RunResult } from '../run.js';
import { indexOfName } from '../simulate/names.js';
import { chosenPairing } from './chosen.js';
import {
  ENDING_PARTS,
  endingRows,
  endOfEndings,
  finalShares,
  STILL_IN_SERVICE,
  type FinalShare,
} from './endings-rows.js';
import { endingWords, manyEndingsWords } from './endings-words.js';
import { linesByPlace } from './labels.js';
import { rounded } from './measures.js';
import {
  chartData,
  FAINT_INK,
  INK,
  makeChart,
  MOST_ROWS,
  PLOT_HEIGHT_PX,
  PLOT_WIDTH_PX,
  type ChartPart,
  type ChartRow,
  type ChartSpec,
} from './spec.js';
import { CAUSE_COLOURS } from './words.js';

/** Which pairings {@link endingsChart} draws: one if both are given, else all of those that fit, side by side. */
export interface EndingsOptions {
  readonly setup?: string | undefined;
  readonly mix?: string | undefined;
}

/** Fewest times that still make a curve. */
const LEAST_TIMES = 9;
const MOST_TIMES = 61;
const COLUMNS = 3;
const SMALL_WIDTH_PX = 220;
const SMALL_HEIGHT_PX = 150;
/** Room that a label takes, px. */
const LABEL_GAP_PX = 15;

/**
 * Chart of how main tires end: shares of sets by removal cause, one on top of the other, with those still in service
 * on top, against flight hours. The shares at the end stand beside it with their intervals.
 *
 * @param result the answer of a run.
 * @param options which pairing; several are drawn side by side.
 * @returns a Vega-Lite specification.
 * @throws UsageError for a name that the result does not have, or more pairings than can be drawn.
 */
export function endingsChart(result: RunResult, options: EndingsOptions = {}): ChartSpec {
  const { setup, mix } = options;
  if (setup !== undefined && mix !== undefined) {
    return oneChart(result, chosenPairing(result, { setup, mix }));
  }
  const pairings = manyPairings(result, options);
  return pairings.length === 1 ? oneChart(result, pairings[0]!) : manyCharts(result, pairings);
}

function manyPairings({ pairings }: RunResult, { setup, mix }: EndingsOptions): readonly PairingSummary[] {
  const named = (key: 'setup' | 'mix'): { name: string }[] => pairings.map((each) => ({ name: each[key] }));
  if (setup !== undefined) indexOfName('set-up', setup, named('setup'));
  if (mix !== undefined) indexOfName('runway mix', mix, named('mix'));
  const chosen = pairings.filter(
    (each) => (setup === undefined || each.setup === setup) && (mix === undefined || each.mix === mix),
  );
  const most = Math.floor(MOST_ROWS / (ENDING_PARTS.length * LEAST_TIMES));
  if (chosen.length > 0 && chosen.length <= most) return chosen;
  throw new UsageError(
    chosen.length === 0
      ? 'the result has no pairing: nothing to draw'
      : `${chosen.length} pairings are too many to draw side by side, ${most} at most; choose a set-up or a runway mix`,
  );
}

const COLOUR: ChartPart = {
  field: 'part',
  type: 'nominal',
  title: null,
  scale: { domain: ENDING_PARTS, range: [...END_CAUSES.map((cause) => CAUSE_COLOURS[cause]), '#EEF2F5'] },
};

function along(end: number, title: string | null): ChartPart {
  return {
    field: 'hours',
    type: 'quantitative',
    scale: { domain: [0, Math.max(1, rounded(end, 2))], nice: false },
    axis: { title, format: ',~r', grid: false, tickCount: 8, labelFlush: false },
  };
}

function upwards(title: string | null): ChartPart {
  return {
    type: 'quantitative',
    scale: { domain: [0, 1] },
    axis: { title, format: '.0%', tickCount: 5, grid: false },
  };
}

/** Areas on top of each other, white lines between them, and points that answer a pointer. */
function areaLayers(x: ChartPart, y: ChartPart, legend: ChartPart | null): ChartPart[] {
  return [
    {
      mark: { type: 'area', stroke: 'white', strokeWidth: 1, aria: false },
      encoding: {
        x,
        y: { ...y, field: 'share', stack: 'zero' },
        color: { ...COLOUR, legend },
        order: { field: 'order', type: 'quantitative' },
      },
    },
    {
      mark: { type: 'point', opacity: 0, size: 60, filled: true },
      encoding: {
        x,
        y: { ...y, field: 'top' },
        description: { field: 'said' },
        tooltip: [
          { field: 'after', title: 'after' },
          { field: 'part', title: 'how' },
          { field: 'of', title: 'share of sets' },
        ],
      },
    },
  ];
}

function oneChart(result: RunResult, pairing: PairingSummary): ChartSpec {
  const end = endOfEndings(pairing);
  const x = along(end, 'flight hours since new (h)');
  const y = upwards('share of sets (%)');
  return makeChart(endingWords(result, pairing), endingRows(pairing, end, MOST_TIMES, 0), {
    width: PLOT_WIDTH_PX,
    height: PLOT_HEIGHT_PX,
    layer: [
      ...areaLayers(x, y, null),
      {
        data: chartData([{ text: STILL_IN_SERVICE }]),
        mark: { type: 'text', align: 'left', baseline: 'top', color: INK, aria: false },
        // Where the run begins, all are.
        encoding: { x: { value: 8 }, y: { value: 8 }, text: { field: 'text' } },
      },
      {
        data: chartData(labelRows(finalShares(pairing))),
        mark: { type: 'rule', color: FAINT_INK, strokeWidth: 0.8, aria: false },
        encoding: {
          x: { value: PLOT_WIDTH_PX },
          x2: { value: PLOT_WIDTH_PX + 12 },
          y: { ...y, field: 'middle' },
          y2: { field: 'beside' },
        },
      },
      {
        data: chartData(labelRows(finalShares(pairing))),
        mark: { type: 'text', align: 'left', baseline: 'middle', color: INK, aria: false },
        encoding: {
          x: { value: PLOT_WIDTH_PX + 16 },
          y: { ...y, field: 'beside' },
          text: { field: 'text' },
        },
      },
    ],
  });
}

/** Labels beside the right end, each at the middle of its part, moved apart where they would stand on each other. */
function labelRows(shares: readonly FinalShare[]): ChartRow[] {
  const gap = LABEL_GAP_PX / PLOT_HEIGHT_PX;
  let below = 0;
  const middles = shares.map(({ share }) => {
    below += share;
    return below - share / 2;
  });
  const beside = middles.slice();
  for (let k = 1; k < beside.length; k++) beside[k] = Math.max(beside[k]!, beside[k - 1]! + gap);
  // What was pushed out at the top goes back down.
  let roof = 1;
  for (let k = beside.length - 1; k >= 0; k--) {
    beside[k] = Math.min(beside[k]!, roof);
    roof = beside[k]! - gap;
  }
  return shares.map(({ text }, k) => ({
    text,
    middle: rounded(middles[k]!, 4),
    beside: rounded(beside[k]!, 4),
  }));
}

function manyCharts(result: RunResult, pairings: readonly PairingSummary[]): ChartSpec {
  const end = pairings.reduce((most, pairing) => Math.max(most, endOfEndings(pairing)), 0);
  const times = Math.floor(MOST_ROWS / (ENDING_PARTS.length * pairings.length));
  const rows = pairings.flatMap((pairing, place) =>
    endingRows(pairing, end, Math.min(MOST_TIMES, times), place),
  );
  const names = pairings.map(({ setup, mix }) => `${setup} on ${mix}`);
  const x = along(end, 'flight hours since new (h)');
  const y = upwards('share of sets (%)');
  const legend = {
    orient: 'bottom',
    direction: 'horizontal',
    columns: 3,
    symbolType: 'square',
    symbolStrokeColor: FAINT_INK,
    symbolStrokeWidth: 0.5,
    values: partsSeen(rows),
  };
  return makeChart(manyEndingsWords(result, pairings), rows, {
    columns: Math.min(COLUMNS, pairings.length),
    spacing: 22,
    facet: {
      field: 'place',
      type: 'ordinal',
      title: null,
      header: { labelExpr: linesByPlace(names, SMALL_WIDTH_PX), labelAnchor: 'start', labelLimit: 0 },
    },
    spec: {
      width: SMALL_WIDTH_PX,
      height: SMALL_HEIGHT_PX,
      layer: areaLayers({ ...x, axis: { ...(x.axis as ChartPart), tickCount: 4 } }, y, legend),
    },
  });
}

/** Parts that somebody met, so that the legend names no others. */
function partsSeen(rows: readonly ChartRow[]): string[] {
  const seen = new Set(rows.filter(({ share }) => Number(share) > 0).map(({ part }) => String(part)));
  return ENDING_PARTS.filter((part) => seen.has(part) || part === STILL_IN_SERVICE);
}
