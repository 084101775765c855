import { millimetres, psi, psiText } from './measures.js';
import { chartData, COLOURS, INK, PLOT_WIDTH_PX, type ChartPart } from './spec.js';

/** A level across a chart, with a label at its right. */
export interface Level {
  /** In the unit of the axis. */
  readonly value: number;
  readonly label: string;
  /** True for a level that one should not go beyond: drawn dashed and red. */
  readonly isLimit: boolean;
}

/** Least distance between the labels of two levels. */
const LABEL_GAP_PX = 16;

/**
 * Levels across a chart as layers. Labels that would stand on each other move apart.
 *
 * @param levels from the highest to the lowest.
 * @param y encoding of the axis, without a field.
 * @param domain of the axis.
 * @param heightPx of the chart.
 */
export function levelLayers(
  levels: readonly Level[],
  y: ChartPart,
  domain: readonly [number, number],
  heightPx: number,
): ChartPart[] {
  const gap = (LABEL_GAP_PX / heightPx) * (domain[1] - domain[0]);
  // From below upwards, so that the lowest keeps its place at the bottom of the chart.
  let free = -Infinity;
  const places = levels
    .slice()
    .reverse()
    .map(({ value }) => {
      const place = Math.max(value, free);
      free = place + gap;
      return place;
    })
    .reverse();
  const data = chartData(
    levels.map(({ value, label, isLimit }, index) => ({ value, labelAt: places[index]!, label, isLimit })),
  );
  const rule = (isLimit: boolean, look: ChartPart): ChartPart => ({
    data,
    transform: [{ filter: `datum.isLimit === ${isLimit}` }],
    mark: { type: 'rule', aria: false, ...look },
    encoding: { y: { ...y, field: 'value' } },
  });
  return [
    rule(false, { color: INK, strokeWidth: 1.2 }),
    rule(true, { color: COLOURS.vermilion, strokeWidth: 1.5, strokeDash: [6, 3] }),
    {
      data,
      mark: {
        type: 'text',
        align: 'left',
        baseline: 'middle',
        dx: 6,
        fontSize: 12,
        color: INK,
        aria: false,
      },
      encoding: {
        x: { value: PLOT_WIDTH_PX },
        y: { ...y, field: 'labelAt' },
        text: { field: 'label' },
      },
    },
  ];
}

/** Cold setting, and the level below which a reading is low. */
export function pressureLevels(coldPa: number, lowPa: number): Level[] {
  return [
    { value: psi(coldPa), label: `cold setting ${psiText(coldPa)}`, isLimit: false },
    { value: psi(lowPa), label: `low: under ${psiText(lowPa)}`, isLimit: true },
  ];
}

/** Tread limit and cords, the one at which tires come off first named so. */
export function treadLevels(limitRubberM: number, removedAt: 'tread limit' | 'cords'): Level[] {
  return [
    {
      value: millimetres(limitRubberM),
      label: removedAt === 'tread limit' ? 'tread limit (tires come off)' : 'tread limit',
      isLimit: false,
    },
    { value: 0, label: removedAt === 'cords' ? 'cords show (tires come off)' : 'cords show', isLimit: false },
  ];
}
