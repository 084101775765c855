import { LIFE_TOOLTIP, RISK_TOOLTIP } from './pairing-dots.js';
import { LABEL_LINE_PX, linesByPlace, mostLines, nameAxis, ROW_LABEL_PX } from './labels.js';
import type { PairingOrder } from './pairing-rows.js';
import { INK, type ChartPart } from './spec.js';

const CELL_PX = 84;
const CELL_HEIGHT_PX = 32;
const MIX_LABEL_PX = 82;
/** With more mixes than this the two grids stand above each other. */
const MOST_BESIDE = 4;
const LINE_OFFSET_PX = 7;

const BOLD = 'Bold: best on its mix, or not told apart.';

/** Colours from little to much, light enough for dark text on them. */
const BLUES = ['#F3F8FC', '#74B0DC'] as const;
const ORANGES = ['#FEF6EE', '#F5A266'] as const;

/**
 * Two grids with a cell for each pairing, set-ups down and mixes across: life and chance of a flat.
 *
 * @param order of the names.
 * @param seasonLandings landings in a season.
 */
export function pairingGrid(order: PairingOrder, seasonLandings: number): ChartPart {
  const beside = order.mixes.length <= MOST_BESIDE;
  const life = grid(order, true, {
    title: 'How long the main tires last, flight hours (h)',
    lines: ['Median; below it, 8 sets in 10.', `Deeper blue lasts longer. ${BOLD}`],
    value: 'lifeShade',
    text: 'lifeShortText',
    range: 'lifeShortRange',
    leads: 'longest',
    said: 'lifeSaid',
    colours: BLUES,
    tooltip: LIFE_TOOLTIP,
  });
  const risk = grid(order, !beside, {
    title: `Chance of a flat in a season of ${seasonLandings} landings (%)`,
    lines: ['Chance; below it, 8 worlds in 10 (ignorance).', `Deeper orange is riskier. ${BOLD}`],
    value: 'flatShade',
    text: 'flatShortText',
    range: 'flatShortRange',
    leads: 'fewest',
    said: 'flatSaid',
    colours: ORANGES,
    tooltip: RISK_TOOLTIP,
  });
  return beside ? { hconcat: [life, risk], spacing: 24 } : { vconcat: [life, risk], spacing: 28 };
}

interface Grid {
  readonly title: string;
  readonly lines: readonly string[];
  readonly value: string;
  readonly text: string;
  readonly range: string;
  readonly leads: string;
  readonly said: string;
  readonly colours: readonly [string, string];
  readonly tooltip: readonly ChartPart[];
}

function grid({ setups, mixes }: PairingOrder, named: boolean, panel: Grid): ChartPart {
  const { title, lines, value, text, range, leads, said, colours, tooltip } = panel;
  const rowPx = Math.max(CELL_HEIGHT_PX, LABEL_LINE_PX * mostLines(setups, ROW_LABEL_PX) + 4);
  const label = (field: string, dy: number, more: ChartPart): ChartPart => ({
    mark: { type: 'text', dy, aria: false, ...more },
    encoding: { text: { field, type: 'nominal' } },
  });
  return {
    title: {
      text: title,
      subtitle: lines,
      anchor: 'start',
      fontSize: 13,
      fontWeight: 600,
      subtitleFontSize: 11,
      offset: 8,
    },
    width: { step: CELL_PX },
    height: { step: rowPx },
    encoding: {
      x: {
        field: 'mixPlace',
        type: 'ordinal',
        scale: { domain: mixes.map((_, place) => place) },
        axis: {
          aria: false,
          title: null,
          orient: 'top',
          domain: false,
          ticks: false,
          labelAngle: 0,
          labelLimit: 0,
          labelFontSize: 11,
          labelExpr: linesByPlace(mixes, MIX_LABEL_PX),
          // Vega sets the first line at the bottom and lets the others run down.
          labelPadding: 6 + (LABEL_LINE_PX - 1) * (mostLines(mixes, MIX_LABEL_PX) - 1),
        },
      },
      y: {
        field: 'setupPlace',
        type: 'ordinal',
        scale: { domain: setups.map((_, place) => place) },
        axis: named ? nameAxis(setups) : null,
      },
    },
    layer: [
      {
        mark: { type: 'rect', stroke: 'white', strokeWidth: 2 },
        encoding: {
          color: {
            field: value,
            type: 'quantitative',
            scale: { type: 'log', range: colours, nice: false },
            legend: null,
          },
          description: { field: said },
          tooltip,
        },
      },
      label(text, -LINE_OFFSET_PX, { fontWeight: { expr: `datum.${leads} ? 'bold' : 'normal'` } }),
      label(range, LINE_OFFSET_PX, { fontSize: 10, color: INK }),
    ],
    resolve: { scale: { color: 'independent' } },
  };
}
