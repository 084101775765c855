import { shortName } from './labels.js';
import type { AxisRange } from './log-axis.js';
import { chartData, type ChartPart } from './spec.js';

/** A name at the right end of a line. */
export interface EndLabel {
  readonly label: string;
  /** Of the text. */
  readonly colour: string;
  /** Where the line ends, in the unit of the axis. */
  readonly value: number;
}

/** Between the labels, px. */
export const LABEL_GAP_PX = 14;
/** Between the end of the panel and the labels, px. */
const LABEL_OFFSET_PX = 8;
const LETTERS = 24;

/**
 * Names of lines right of a panel, moved apart where they would overlap.
 *
 * @param labels in any order.
 * @param range axis of the panel.
 * @param size of the panel, px.
 * @returns layers: one, or none if there is nothing to name.
 */
export function endLabels(
  labels: readonly EndLabel[],
  range: AxisRange,
  size: { readonly widthPx: number; readonly heightPx: number },
): ChartPart[] {
  if (labels.length === 0) return [];
  const ordered = [...labels].sort((a, b) => b.value - a.value);
  const tops = spread(
    ordered.map(({ value }) => topPx(value, range, size.heightPx)),
    LABEL_GAP_PX,
    size.heightPx,
  );
  return [
    {
      data: chartData(
        ordered.map(({ label, colour }, index) => ({
          label: shortName(label, LETTERS),
          colour,
          topPx: tops[index]!,
        })),
      ),
      mark: { type: 'text', align: 'left', fontSize: 11, aria: false },
      encoding: {
        x: { value: size.widthPx + LABEL_OFFSET_PX },
        y: { field: 'topPx', type: 'quantitative', scale: null, axis: null },
        text: { field: 'label', type: 'nominal' },
        color: { field: 'colour', type: 'nominal', scale: null },
      },
    },
  ];
}

/** Distance of a value from the top of a panel. */
function topPx(value: number, { type, domain: [low, high] }: AxisRange, height: number): number {
  const inside = Math.min(Math.max(value, low), high);
  const share =
    type === 'log' ? Math.log(inside / low) / Math.log(high / low) : (inside - low) / (high - low);
  return height * (1 - share);
}

/**
 * Moves places along a line apart, each as little as this allows.
 *
 * @param places rising.
 * @param gap least distance.
 * @param end of the line; from 0 on.
 */
export function spread(places: readonly number[], gap: number, end: number): number[] {
  const moved: number[] = [];
  for (const place of places) moved.push(Math.max(place, (moved[moved.length - 1] ?? -gap) + gap));
  for (let index = moved.length - 1, most = end; index >= 0; index--, most = moved[index + 1]! - gap) {
    moved[index] = Math.min(moved[index]!, most);
  }
  return moved;
}
