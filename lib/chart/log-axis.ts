/** Where an axis begins and ends, and its ticks. */
export interface AxisRange {
  readonly type: 'linear' | 'log';
  readonly domain: readonly [number, number];
  /** Null: those that Vega chooses. */
  readonly ticks: readonly number[] | null;
}

/** Parts of a decade that are labelled, densest first. */
const DENSITIES: readonly (readonly number[])[] = [[1, 2, 5], [1, 3], [1]];

/** Widest spans left to the rule above; beyond, only every second or third decade is labelled. */
const MOST_DECADES_APART = 6;

/** Room at both ends of a log axis. */
const LOG_PADDING = 1.25;
const LINEAR_PADDING = 1.05;

/** A range of values this wide hides its lower end on a linear axis. */
const WIDE_RATIO = 20;

/**
 * Ticks of a log axis at round numbers, as many as have room.
 *
 * @param low start of the axis, > 0.
 * @param high its end.
 * @param widthPx length of the axis.
 * @param labelPx room that a label needs.
 */
export function logTicks(low: number, high: number, widthPx: number, labelPx: number): number[] {
  const decadePx = widthPx / Math.max(Math.log10(high / low), 1e-9);
  const first = Math.floor(Math.log10(low));
  const last = Math.ceil(Math.log10(high));
  const decades = Array.from({ length: last - first + 1 }, (_, step) => first + step);
  const within = (tick: number): boolean => tick >= low && tick <= high;
  for (const steps of DENSITIES) {
    const gapPx = decadePx * smallestGap(steps);
    if (gapPx < labelPx) continue;
    const ticks = decades.flatMap((power) => steps.map((step) => powerOfTen(step, power))).filter(within);
    if (ticks.length >= 2 || steps.length === 1) return ticks;
  }
  for (let apart = 2; ; apart++) {
    if (decadePx * apart >= labelPx || apart >= MOST_DECADES_APART) {
      return decades
        .filter((power) => power % apart === 0)
        .map((power) => powerOfTen(1, power))
        .filter(within);
    }
  }
}

/** Smallest distance between neighbours, in decades. */
function smallestGap(steps: readonly number[]): number {
  const logs = [...steps, 10 * steps[0]!].map(Math.log10);
  return logs.slice(1).reduce((gap, log, index) => Math.min(gap, log - logs[index]!), 1);
}

/** step x 10^power, rounded once: 0.05 and not 0.05000000000000001. */
function powerOfTen(step: number, power: number): number {
  return Number(`${step}e${power}`);
}

/** A number to three figures, so that the ends of an axis read well. */
function threeFigures(value: number, round: (value: number) => number): number {
  const power = Math.floor(Math.log10(value)) - 2;
  return Number(`${round(Number((value * 10 ** -power).toPrecision(12)))}e${power}`);
}

/**
 * A log axis around values.
 *
 * @param values those above 0 count.
 * @param limits what the axis never goes beyond.
 * @param widthPx length of the axis.
 * @param labelPx room that a label needs.
 */
export function logRange(
  values: readonly number[],
  limits: readonly [number, number],
  widthPx: number,
  labelPx: number,
): AxisRange {
  const inside = values
    .filter((value) => value > 0)
    .map((value) => Math.min(Math.max(value, limits[0]), limits[1]));
  const low = inside.length === 0 ? limits[0] : Math.min(...inside);
  const high = inside.length === 0 ? limits[1] : Math.max(...inside);
  const domain = [
    threeFigures(Math.max(low / LOG_PADDING, limits[0] / LOG_PADDING), Math.floor),
    Math.min(threeFigures(high * LOG_PADDING, Math.ceil), limits[1]),
  ] as const;
  return { type: 'log', domain, ticks: logTicks(domain[0], domain[1], widthPx, labelPx) };
}

/**
 * An axis for amounts: from 0 on where that shows all of them, else a log axis.
 *
 * @param values amounts, 0 or more.
 * @param widthPx length of the axis.
 * @param labelPx room that a label needs.
 * @param wideRatio highest over lowest from which on the axis is a log axis.
 */
export function amountRange(
  values: readonly number[],
  widthPx: number,
  labelPx: number,
  wideRatio: number = WIDE_RATIO,
): AxisRange {
  const positive = values.filter((value) => value > 0);
  const high = positive.length === 0 ? 1 : Math.max(...positive);
  const low = positive.length === 0 ? 1 : Math.min(...positive);
  if (high / low > wideRatio) return logRange(values, [low, Infinity], widthPx, labelPx);
  return { type: 'linear', domain: [0, threeFigures(high * LINEAR_PADDING, Math.ceil)], ticks: null };
}
