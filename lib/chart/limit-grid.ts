import { LABEL_LINE_PX, linesByPlace, mostLines, nameAxis, ROW_LABEL_PX } from './labels.js';
import { groupEncoding, LIMIT_TOOLTIP } from './limit-bars.js';
import { LIMIT_GROUPS, LIMIT_LOOKS } from './limit-rows.js';
import type { ChartPart } from './spec.js';

const CELL_PX = 104;
const ROW_PX = 21;
const HEADER_PX = 98;

/**
 * A grid of several set-ups: checks down, set-ups across, the margin as a share of the limit in each cell.
 *
 * @param order names of the checks.
 * @param setups names of the set-ups.
 */
export function limitGrid(order: readonly string[], setups: readonly string[]): ChartPart {
  const rowPx = Math.max(ROW_PX, LABEL_LINE_PX * mostLines(order, ROW_LABEL_PX) + 4);
  const x = {
    field: 'setupPlace',
    type: 'ordinal',
    title: null,
    scale: { domain: setups.map((_, place) => place) },
    axis: {
      orient: 'top',
      domain: false,
      ticks: false,
      labelAngle: 0,
      labelLimit: 0,
      // Vega lets lines grow downwards: the longest name ends above the cells.
      labelPadding: 6 + LABEL_LINE_PX * (mostLines(setups, HEADER_PX) - 1),
      aria: false,
      labelExpr: linesByPlace(setups, HEADER_PX),
    },
  };
  const y = {
    field: 'place',
    type: 'ordinal',
    scale: { domain: order.map((_, place) => place) },
    axis: nameAxis(order),
  };
  const tints = Object.fromEntries(LIMIT_GROUPS.map((group) => [group, LIMIT_LOOKS[group].tint]));
  return {
    width: { step: CELL_PX },
    height: { step: rowPx },
    encoding: { x, y },
    layer: [
      {
        mark: {
          type: 'rect',
          stroke: 'white',
          strokeWidth: 1.5,
          // No scale of its own: its legend would stand beside that of the marks.
          fill: { expr: `${JSON.stringify(tints)}[datum.group]` },
        },
        encoding: {
          description: { field: 'said' },
          tooltip: LIMIT_TOOLTIP,
        },
      },
      {
        mark: { type: 'point', filled: true, size: 55, opacity: 1, xOffset: -CELL_PX / 2 + 12, aria: false },
        encoding: {
          color: groupEncoding('colour'),
          shape: groupEncoding('shape'),
        },
      },
      {
        mark: {
          type: 'text',
          align: 'right',
          xOffset: CELL_PX / 2 - 8,
          fontSize: 11,
          aria: false,
          fontWeight: { expr: "datum.group === 'beyond' ? 'bold' : 'normal'" },
        },
        encoding: { text: { field: 'cell', type: 'nominal' } },
      },
    ],
  };
}
