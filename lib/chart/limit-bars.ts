import { rowFigures, rowHover, ZERO_GRID } from './difference-axis.js';
import { LABEL_LINE_PX, mostLines, nameAxis, ROW_LABEL_PX } from './labels.js';
import { LIMIT_GROUPS, LIMIT_LOOKS } from './limit-rows.js';
import { INK, type ChartPart } from './spec.js';

const WIDTH_PX = 330;
const ROW_PX = 20;

/** What is read when pointing at a check. */
export const LIMIT_TOOLTIP: readonly ChartPart[] = [
  { field: 'setup', type: 'nominal', title: 'set-up' },
  { field: 'check', type: 'nominal', title: 'check' },
  { field: 'title', type: 'nominal', title: 'what is compared' },
  { field: 'group', type: 'nominal', title: 'result' },
  { field: 'valueText', type: 'nominal', title: 'value' },
  { field: 'limitText', type: 'nominal', title: 'limit' },
  { field: 'marginText', type: 'nominal', title: 'margin' },
  { field: 'worldsText', type: 'nominal', title: 'doubt' },
  { field: 'source', type: 'nominal', title: 'source' },
];

/** Encoding of the groups by a channel; one legend serves both. */
export function groupEncoding(of: 'colour' | 'shape'): ChartPart {
  return {
    field: 'group',
    type: 'nominal',
    title: null,
    scale: { domain: LIMIT_GROUPS, range: LIMIT_GROUPS.map((group) => LIMIT_LOOKS[group][of]) },
    legend: GROUP_LEGEND,
  };
}

/** Legend of the groups. */
const GROUP_LEGEND: ChartPart = {
  orient: 'bottom',
  direction: 'horizontal',
  symbolSize: 80,
  symbolOpacity: 1,
};

/**
 * Bars of one set-up: margin as a share of the limit, a row for each check.
 *
 * @param order names of the checks.
 */
export function limitBars(order: readonly string[]): ChartPart {
  const rowPx = Math.max(ROW_PX, LABEL_LINE_PX * mostLines(order, ROW_LABEL_PX) + 4);
  const x = {
    type: 'quantitative',
    title: 'margin (% of the limit); left of the line: beyond it',
    scale: { domain: [-1.04, 1.04], nice: false },
    axis: { ...ZERO_GRID, values: [-1, -0.5, 0, 0.5, 1], labelExpr: "format(100 * datum.value, 'd') + ' %'" },
  };
  const y = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: order.map((_, place) => place) },
    axis: nameAxis(order),
  };
  return {
    width: WIDTH_PX,
    height: rowPx * order.length,
    encoding: { y },
    layer: [
      {
        transform: [{ filter: 'datum.hasShare' }],
        mark: { type: 'bar', height: { band: 0.6 }, opacity: 0.35, aria: false },
        encoding: { x: { ...x, field: 'share' }, color: groupEncoding('colour') },
      },
      {
        transform: [{ filter: 'isValid(datum.worldLow)' }],
        mark: { type: 'rule', strokeWidth: 1.2, color: INK, aria: false },
        encoding: { x: { ...x, field: 'worldLow' }, x2: { field: 'worldHigh' } },
      },
      {
        mark: { type: 'point', filled: true, size: 70, opacity: 1, aria: false },
        encoding: {
          // Beside the bars: a limit of 0 has no share, and a mark on the line would look like no margin.
          x: { value: WIDTH_PX + 16 },
          color: groupEncoding('colour'),
          shape: groupEncoding('shape'),
        },
      },
      ...(['left', 'right'] as const).map((side) => ({
        // Off the scale: a mark at the end points out.
        transform: [{ filter: `datum.off === '${side}'` }],
        mark: {
          type: 'point',
          filled: true,
          shape: `triangle-${side}`,
          size: 60,
          opacity: 1,
          color: INK,
          xOffset: side === 'left' ? -9 : 9,
          aria: false,
        },
        encoding: { x: { ...x, field: 'share' } },
      })),
      rowFigures(WIDTH_PX + 28, "datum.group === 'beyond'"),
      rowHover(WIDTH_PX, LIMIT_TOOLTIP),
    ],
  };
}
