import type { ChartPart } from './spec.js';

const TICKS = 4;

/**
 * A linear axis for differences: all values and 0 inside, a little room at both ends, a few round ticks.
 *
 * @param values in the unit of the axis.
 */
export function differenceRange(values: readonly number[]): {
  readonly domain: readonly [number, number];
  readonly ticks: readonly number[];
} {
  const low = values.reduce((a, b) => Math.min(a, b), 0);
  const high = values.reduce((a, b) => Math.max(a, b), 0);
  const span = high - low || 1;
  const domain = [low - 0.06 * span, high + 0.06 * span] as const;
  const raw = span / TICKS;
  const size = 10 ** Math.floor(Math.log10(raw));
  const step = size * ([1, 2, 5, 10].find((factor) => factor * size >= raw) ?? 10);
  const first = Math.ceil(domain[0] / step);
  const last = Math.floor(domain[1] / step);
  const decimals = Math.min(9, Math.max(0, -Math.floor(Math.log10(step))));
  return {
    domain,
    ticks: Array.from(
      { length: last - first + 1 },
      (_, index) =>
        // Adding 0 turns -0 into 0.
        Number(((first + index) * step).toFixed(decimals)) + 0,
    ),
  };
}

/** Grid of an axis of differences: the line of no difference stands out. */
export const ZERO_GRID: ChartPart = {
  grid: true,
  gridColor: { condition: { test: 'datum.value === 0', value: '#888888' }, value: '#E6E6E6' },
};

/** With differences so many times what does not matter, the axis is compressed beyond that. */
const MOST_TIMES = 20;

/** An axis for differences of which some are tiny beside others. */
export interface DifferenceAxis {
  /** Of the title: empty, or how the axis is compressed. */
  readonly remark: string;
  readonly scale: ChartPart;
  readonly ticks: readonly number[];
}

/**
 * An axis for differences: linear, or, where some are far beyond what matters, by factors beyond that.
 *
 * @param values in the unit of the axis.
 * @param matters differences below do not matter, 0 or more.
 */
export function differenceAxis(values: readonly number[], matters: number): DifferenceAxis {
  const { domain, ticks } = differenceRange(values);
  const far = values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  if (matters <= 0 || far <= MOST_TIMES * matters) {
    return { remark: '', scale: { domain, nice: false }, ticks };
  }
  const low = values.reduce((a, b) => Math.min(a, b), 0);
  const high = values.reduce((a, b) => Math.max(a, b), 0);
  const decades = [1, 10, 100, 1000, 10_000, 100_000, 1_000_000]
    .map((times) => times * 10 ** Math.floor(Math.log10(matters)))
    .filter((tick) => tick <= far)
    // Powers of ten are not exact: 0.1 is.
    .map((tick) => Number(tick.toPrecision(6)));
  return {
    remark: ', by factors beyond the shaded',
    scale: { type: 'symlog', constant: matters, domain: [1.1 * low, 1.3 * high], nice: false },
    ticks: [
      ...decades.filter((tick) => tick <= -low).map((tick) => -tick),
      0,
      ...decades.filter((tick) => tick <= high),
    ],
  };
}

/**
 * Layer of figures right of a plot, one for each row.
 *
 * @param fromPx where they begin, px.
 * @param bold which rows are bold, as a Vega expression.
 */
export function rowFigures(fromPx: number, bold: string): ChartPart {
  return {
    mark: {
      type: 'text',
      align: 'left',
      aria: false,
      fontWeight: { expr: `${bold} ? 'bold' : 'normal'` },
    },
    encoding: { x: { value: fromPx }, text: { field: 'text', type: 'nominal' } },
  };
}

/**
 * Layer that takes up the pointer and the reader of each row, over the whole width of a plot.
 *
 * @param widthPx width of the plot, px.
 * @param tooltip fields that are shown.
 */
export function rowHover(widthPx: number, tooltip: readonly ChartPart[]): ChartPart {
  return {
    mark: { type: 'bar', opacity: 0 },
    encoding: {
      x: { value: 0 },
      x2: { value: widthPx },
      description: { field: 'said' },
      tooltip,
    },
  };
}
