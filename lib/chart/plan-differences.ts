import { differenceRange, rowFigures, rowHover, ZERO_GRID } from './difference-axis.js';
import type { planLines } from './plan-rows.js';
import { chartData, COLOURS, FAINT_INK, type ChartPart } from './spec.js';

/** Width of the panel, px. */
export const DIFFERENCE_PX = 190;

/**
 * How much more than the best each plan takes, with its interval, beside the rows of a calendar.
 *
 * @param y encoding of the rows.
 * @param lines figures of the plans.
 * @param unit of what plans are chosen by.
 */
export function planDifferences(y: ChartPart, lines: ReturnType<typeof planLines>, unit: string): ChartPart {
  const { domain, ticks } = differenceRange(
    lines.flatMap(({ difference, lower, upper }) => [difference, lower, upper]) as number[],
  );
  const x = {
    type: 'quantitative',
    title: `more than the best plan (${unit} a season)`,
    scale: { domain, nice: false },
    axis: { ...ZERO_GRID, values: ticks, format: ',~r', labelFlush: false },
  };
  const isOpen = (open: boolean): ChartPart => ({ filter: `datum.open === ${open}` });
  const dot = (open: boolean): ChartPart => ({
    transform: [isOpen(open)],
    mark: {
      type: 'point',
      filled: true,
      fill: open ? 'white' : COLOURS.blue,
      stroke: COLOURS.blue,
      strokeWidth: 1.5,
      size: 50,
      opacity: 1,
      aria: false,
    },
    encoding: { x: { ...x, field: 'difference' } },
  });
  return {
    encoding: { y },
    layer: [
      {
        mark: { type: 'rule', color: COLOURS.blue, strokeWidth: 2, aria: false },
        encoding: { x: { ...x, field: 'lower' }, x2: { field: 'upper' } },
      },
      dot(false),
      dot(true),
      {
        data: chartData([{ place: 0, text: `${unit} a season (more)` }]),
        mark: { type: 'text', align: 'left', fontSize: 11, color: FAINT_INK, aria: false },
        encoding: { x: { value: DIFFERENCE_PX + 10 }, text: { field: 'text', type: 'nominal' } },
      },
      rowFigures(DIFFERENCE_PX + 10, 'datum.open || datum.isBest'),
      rowHover(DIFFERENCE_PX, [
        { field: 'plan', type: 'nominal', title: 'plan' },
        { field: 'figure', type: 'nominal', title: 'a season' },
        { field: 'differenceText', type: 'nominal', title: 'more than the best (95 %)' },
        { field: 'bestIn', type: 'nominal', title: 'best in' },
      ]),
    ],
  };
}
