import type { PairingSummary } from '../estimate/summary.js';
import { UsageError } from '../problems.js';
import type { RunResult } from '../run.js';
import { nearestName } from '../units.js';
import { linesByPlace } from './labels.js';
import { mixBlocks } from './mix-blocks.js';
import { pairingOrder } from './pairing-rows.js';
import { COLOURS, makeChart, type ChartPart, type ChartSpec } from './spec.js';
import {
  CAUSE_PARTS,
  errorText,
  SHARE_BAR_PX,
  shareRows,
  surfaceParts,
  type ShareParts,
} from './wear-rows.js';
import { wearDescription, wearFinding } from './wear-words.js';
import { CHART_CAUTION, provenance, WEAR_COLOURS } from './words.js';

/** What {@link wearSharesChart} draws. */
export interface WearSharesOptions {
  /** Only this runway mix. Without it: all of them up to 24 pairings, else the first. */
  readonly mix?: string | undefined;
}

/** Without a choice, more pairings than this are too many to read. */
const MOST_BARS = 24;

/** From dark to light, so that neighbours differ also in grey: the cividis scale, as d3-scale-chromatic gives it. */
const SURFACE_COLOURS: readonly string[] = ['#C3B369', '#575D6D', '#FEE838', '#8A8678', '#123570', '#D9D9D9'];
/** Those on which text has to be white. */
const DARK_COLOURS: ReadonlySet<string> = new Set(['#575D6D', '#123570']);

const BETWEEN_PX = 36;
/** Room for a name in a legend, px, and letters up to which three stand side by side. */
const LEGEND_LABEL_PX = 250;
const SHORT_LETTERS = 14;

/**
 * Chart of what wears the main tires: shares of the rubber worn off by cause (spin-up, braking, pivots, squirm, scrub)
 * and by surface, a bar for each set-up.
 *
 * @param result the answer of a run.
 * @param options which mix.
 * @returns a chart of one row of data per pairing and part.
 * @throws UsageError if the result has no pairing, or none on this mix.
 */
export function wearSharesChart(result: RunResult, options: WearSharesOptions = {}): ChartSpec {
  const pairings = chosenPairings(result.pairings, options.mix);
  const order = pairingOrder(pairings);
  // From all pairings, so that a surface has the same colour in the charts of every mix.
  const surfaces = surfaceParts(result.pairings);
  const finding = wearFinding(pairings, CAUSE_PARTS, surfaces);
  const causeColours = CAUSE_PARTS.names.map((name) => WEAR_COLOURS[name as keyof typeof WEAR_COLOURS]);
  const panel = (named: boolean, title: string, parts: ShareParts, colours: readonly string[]): ChartPart =>
    mixBlocks({ title, spec: bars(named ? 'cause' : 'surface', parts, colours) }, order, named);
  const words = {
    title: finding,
    subtitle: [
      ...leftOut(result.pairings, pairings),
      provenance(result),
      `Simulation error of a share (standard error): at most ${errorText(largestError(pairings, surfaces))}.`,
      CHART_CAUTION,
    ],
    description: wearDescription(pairings, CAUSE_PARTS, surfaces, finding),
  };
  const rows = [
    ...shareRows(pairings, order, CAUSE_PARTS, 'cause'),
    ...shareRows(pairings, order, surfaces, 'surface'),
  ];
  const chart = makeChart(words, rows, {
    spacing: BETWEEN_PX,
    hconcat: [
      panel(true, 'By cause', CAUSE_PARTS, causeColours),
      panel(false, 'By surface', surfaces, SURFACE_COLOURS),
    ],
    resolve: { scale: { color: 'independent' } },
  });
  const title = { ...chart.title, frame: 'bounds' };
  return { ...chart, title };
}

function chosenPairings(all: readonly PairingSummary[], mix: string | undefined): readonly PairingSummary[] {
  const [first] = all;
  if (first === undefined) throw new UsageError('the result has no pairing: nothing to draw');
  if (mix === undefined && all.length <= MOST_BARS) return all;
  const wanted = mix ?? first.mix;
  const chosen = all.filter((pairing) => pairing.mix === wanted);
  if (chosen.length > 0) return chosen;
  const mixes = [...new Set(all.map((pairing) => pairing.mix))];
  const nearest = nearestName(wanted, mixes);
  throw new UsageError(
    `there is no runway mix named "${wanted}" in the result; ${nearest === null ? `there are: ${mixes.join(', ')}` : `did you mean "${nearest}"?`}`,
  );
}

/** Says which mix is drawn where the others are not. */
function leftOut(all: readonly PairingSummary[], drawn: readonly PairingSummary[]): string[] {
  const mixes = new Set(all.map(({ mix }) => mix)).size;
  return drawn.length === all.length ? [] : [`Runway mix: ${drawn[0]!.mix}, one of ${mixes}.`];
}

function largestError(pairings: readonly PairingSummary[], surfaces: ShareParts): number {
  const errors = pairings.flatMap((pairing) =>
    [CAUSE_PARTS, surfaces].flatMap(({ sharesOf }) =>
      sharesOf(pairing).map(({ standardError }) => standardError),
    ),
  );
  return errors.reduce((a, b) => Math.max(a, b), 0);
}

function bars(panel: string, { names }: ShareParts, colours: readonly string[]): ChartPart {
  const places = names.map((_, place) => place);
  const range = colours.slice(0, names.length);
  const light = places.filter((place) => DARK_COLOURS.has(range[place]!));
  const short = names.every((name) => name.length <= SHORT_LETTERS);
  return {
    width: SHARE_BAR_PX,
    transform: [{ filter: `datum.panel === '${panel}'` }],
    layer: [
      {
        transform: [{ filter: 'datum.share > 0' }],
        mark: { type: 'bar', stroke: 'white', strokeWidth: 1, height: { band: 0.78 } },
        encoding: {
          x: {
            field: 'from',
            type: 'quantitative',
            title: 'share of the rubber worn off (%)',
            scale: { domain: [0, 1], nice: false },
            axis: { labelExpr: "format(100 * datum.value, 'd') + ' %'", values: [0, 0.25, 0.5, 0.75, 1] },
          },
          x2: { field: 'to' },
          color: {
            field: 'partPlace',
            type: 'ordinal',
            scale: { domain: places, range },
            legend: {
              title: null,
              orient: 'bottom',
              direction: 'horizontal',
              columns: short ? 3 : 1,
              labelLimit: 0,
              symbolType: 'square',
              labelExpr: linesByPlace(names, LEGEND_LABEL_PX),
            },
          },
          description: { field: 'said' },
          tooltip: [
            { field: 'setup', type: 'nominal', title: 'set-up' },
            { field: 'mix', type: 'nominal', title: 'runway mix' },
            { field: 'part', type: 'nominal', title: panel },
            { field: 'shareText', type: 'nominal', title: 'share of the rubber worn off' },
            { field: 'errorText', type: 'nominal', title: 'standard error of the simulation' },
          ],
        },
      },
      {
        transform: [
          { filter: 'datum.share > 0' },
          { calculate: '(datum.from + datum.to) / 2', as: 'middle' },
        ],
        mark: {
          type: 'text',
          fontSize: 11,
          aria: false,
          color: {
            expr: `indexof(${JSON.stringify(light)}, datum.partPlace) >= 0 ? 'white' : '${COLOURS.black}'`,
          },
        },
        encoding: {
          x: { field: 'middle', type: 'quantitative' },
          text: { field: 'label', type: 'nominal' },
        },
      },
      {
        transform: [{ filter: 'datum.share === 0 && datum.to === 0 && isValid(datum.label)' }],
        mark: { type: 'text', align: 'left', fontSize: 11, dx: 4 },
        encoding: {
          x: { field: 'from', type: 'quantitative' },
          text: { field: 'label', type: 'nominal' },
          description: { field: 'said' },
        },
      },
    ],
  };
}
