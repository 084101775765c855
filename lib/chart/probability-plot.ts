import type { CensoredLife } from '../estimate/censored-lives.js';
import { fittedSurvival } from '../estimate/life-forecast.js';
import type { LifeFit } from '../estimate/life-fit.js';
import { standardLaw } from '../estimate/life-laws.js';
import { probabilityPlot, type ProbabilityPoint } from '../estimate/probability-plot.js';
import { UsageError } from '../problems.js';
import { amountText } from '../present/amounts.js';
import { percentText, printable } from '../present/words.js';
import { version } from '../version.js';

import { thinned, thinningText } from './fit-thinning.js';
import { logTicks } from './log-axis.js';
import { shortName } from './labels.js';
import { counted, rounded } from './measures.js';
import { LAW_NAMES, lifeFinding, lifeVerdict, unitText } from './probability-words.js';
import { chartData, COLOURS, makeChart, type ChartPart, type ChartRow, type ChartSpec } from './spec.js';
import { CHART_CAUTION } from './words.js';

/** What {@link probabilityPlotChart} says of the lives. */
export interface ProbabilityPlotOptions {
  /** Whose lives they are, for the title: "main tires of soft 29 at 9 psi". */
  readonly what: string;
  /** Unit that the lives are counted in; default landings. */
  readonly unit?: 'landings' | 'flight hours' | 'days' | undefined;
}

const WIDTH_PX = 520;
const HEIGHT_PX = 340;
const LABEL_PX = 52;
const LEAST_TICKS = 4;
const MOST_POINTS = 1500;
/** Points of the fitted line. */
const STEPS = 48;
/** Shares that are labelled, where they have room. */
const TICKS = [
  0.0001, 0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.3, 0.5, 0.7, 0.8, 0.9, 0.95, 0.99, 0.999, 0.9999,
];
const TICK_ROOM_PX = 16;

/**
 * Probability plot of lives: share ended (%) against time, on axes on which the fitted law is a straight line, with its
 * pointwise profile-likelihood band. Points that bend away from the line speak against the law.
 *
 * @param fit from `fitLife`; where it identifies no law the points are drawn alone, and the title says so.
 * @param options whose lives they are and their unit.
 * @returns a chart of a row of data for each step of the life curve and of the line.
 * @throws UsageError where no life has ended within a known time.
 */
export function probabilityPlotChart(
  fit: LifeFit,
  { what, unit = 'landings' }: ProbabilityPlotOptions,
): ChartSpec {
  const points = probabilityPlot(livesOf(fit), fit.law);
  if (points.length === 0) throw new UsageError('no life has ended at a known time: nothing to draw');
  const { kept, every } = thinned(points, MOST_POINTS, ({ time }) => [time]);
  const shares = points.map(({ ended }) => ended);
  const { quantile } = standardLaw(fit.law);
  const range = {
    y: [
      quantile(Math.max(0.0001, Math.min(0.05, 0.5 * Math.min(...shares)))),
      quantile(Math.min(0.9999, Math.max(0.9, 1 - 0.5 * (1 - Math.max(...shares))))),
    ] as const,
    x: [0.8 * points[0]!.time, 1.25 * points.at(-1)!.time] as const,
  };
  const line = fit.parameters === null ? [] : lineRows(fit, range, unit);
  const inside = fit.parameters === null ? null : points.filter((point) => isInBand(fit, point)).length;
  const finding = lifeFinding(fit, unit);
  const words = lifeVerdict(fit, points.length, inside);
  const chart = makeChart(
    {
      title: finding,
      subtitle: [
        `${fit.ends} of ${counted(fit.lives, 'life').replace('lifes', 'lives')} of ${shortName(what, 60)} had ended. On these axes a ${LAW_NAMES[fit.law]} law is a straight line.`,
        ...words,
        ...thinningText(every, 'time'),
        `${fit.parameters === null ? '' : `Band: ${percentText(fit.level)} interval of the law at each time (profile likelihood). `}gravelbar ${version()}.`,
        CHART_CAUTION,
      ],
      description: printable(
        `Probability plot of ${counted(fit.lives, 'life').replace('lifes', 'lives')} of ${what}, ${fit.ends} ended. ${finding}. ${words.join(' ')}`,
      ),
    },
    [],
    plot(fit, kept, line, range, unit),
  );
  return chart;
}

/** The lives that were fitted, one row for those alike. */
function livesOf({ data }: LifeFit): CensoredLife[] {
  return Array.from(data.from, (from, i) => ({
    from,
    to: data.to[i]!,
    entry: data.entry[i]!,
    count: data.count[i]!,
  }));
}

interface Range {
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
}

function isInBand(fit: LifeFit, { time, ended }: ProbabilityPoint): boolean {
  const { lower, upper } = fittedSurvival(fit, time);
  return 1 - ended >= (lower ?? 0) && 1 - ended <= (upper ?? 1);
}

function lineRows(fit: LifeFit, { x, y }: Range, unit: string): ChartRow[] {
  const { quantile } = standardLaw(fit.law);
  const clamp = (survival: number): number => {
    const ended = Math.min(1 - 1e-12, Math.max(1e-12, 1 - survival));
    return Math.min(y[1], Math.max(y[0], quantile(ended)));
  };
  return Array.from({ length: STEPS + 1 }, (_, k): ChartRow => {
    const time = x[0] * (x[1] / x[0]) ** (k / STEPS);
    const { estimate, lower, upper } = fittedSurvival(fit, time);
    const middle = clamp(estimate);
    return {
      time: Number(time.toPrecision(5)),
      y: rounded(middle, 4),
      low: rounded(clamp(upper ?? 1), 4),
      high: rounded(clamp(lower ?? 0), 4),
      onPlot: middle > y[0] && middle < y[1],
      at: `${amountText(time)} ${unitText(unit)}`,
      endedText: percentText(1 - estimate),
      doubtText: `${percentText(1 - (upper ?? 1))} to ${percentText(1 - (lower ?? 0))}`,
    };
  });
}

function plot(
  fit: LifeFit,
  points: readonly ProbabilityPoint[],
  line: readonly ChartRow[],
  range: Range,
  unit: string,
): ChartPart {
  const { quantile } = standardLaw(fit.law);
  const ticks = roomyTicks(
    TICKS.map((share) => ({ share, y: rounded(quantile(share), 4) })).filter(
      ({ y }) => y >= range.y[0] && y <= range.y[1],
    ),
    range.y,
  );
  const labels = Object.fromEntries(ticks.map(({ share, y }) => [String(y), `${rounded(100 * share, 2)} %`]));
  const x = {
    field: 'time',
    type: 'quantitative',
    title: `${unit === 'landings' ? 'landings since new' : `${unit} since new${unit === 'flight hours' ? ' (h)' : ''}`}, log scale`,
    scale: { type: 'log', domain: range.x, nice: false },
    axis: { values: timeTicks(range.x), format: ',~r', grid: true },
  };
  const y = (field: string): ChartPart => ({
    field,
    type: 'quantitative',
    title: `lives ended (%), ${LAW_NAMES[fit.law]} scale`,
    scale: { domain: range.y, nice: false, zero: false },
    axis: { values: ticks.map((tick) => tick.y), labelExpr: `${JSON.stringify(labels)}[datum.value]` },
  });
  const rows = points.map((point): ChartRow => {
    const at = `${amountText(point.time)} ${unitText(unit)}`;
    return {
      time: Number(point.time.toPrecision(6)),
      y: rounded(point.y, 4),
      at,
      endedText: percentText(point.ended),
      said: `${percentText(point.ended)} ended by ${at}`,
    };
  });
  return {
    width: WIDTH_PX,
    height: HEIGHT_PX,
    layer: [
      ...(line.length === 0
        ? []
        : [
            {
              data: chartData(line),
              mark: { type: 'area', color: COLOURS.sky, opacity: 0.3, aria: false },
              encoding: { x, y: y('low'), y2: { field: 'high' } },
            },
            {
              data: chartData(line.filter(({ onPlot }) => onPlot === true)),
              mark: { type: 'line', color: COLOURS.blue, strokeWidth: 2, aria: false },
              encoding: { x, y: y('y') },
            },
          ]),
      {
        data: chartData(rows),
        mark: { type: 'point', filled: true, size: 46, color: COLOURS.black, opacity: 0.85 },
        encoding: {
          x,
          y: y('y'),
          description: { field: 'said' },
          tooltip: [
            { field: 'at', type: 'nominal', title: 'by' },
            { field: 'endedText', type: 'nominal', title: 'ended' },
          ],
        },
      },
    ],
  };
}

/** Ticks of the times: those of a log axis, or evenly spread ones where that would leave too few. */
function timeTicks([low, high]: readonly [number, number]): number[] {
  const ticks = logTicks(low, high, WIDTH_PX, LABEL_PX);
  if (ticks.length >= LEAST_TICKS) return ticks;
  const raw = (high - low) / LEAST_TICKS;
  const size = 10 ** Math.floor(Math.log10(raw));
  const step = size * ([1, 2, 5, 10].find((factor) => factor * size >= raw) ?? 10);
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.floor(high / step) - first + 1 }, (_, k) =>
    Number(((first + k) * step).toPrecision(6)),
  );
}

/** Ticks that have room for their labels, those nearest to a half first. */
function roomyTicks(
  ticks: readonly { readonly share: number; readonly y: number }[],
  [low, high]: readonly [number, number],
): { share: number; y: number }[] {
  const roomY = (TICK_ROOM_PX * (high - low)) / HEIGHT_PX;
  const kept: { share: number; y: number }[] = [];
  const byRank = [...ticks].sort((one, other) => Math.abs(one.share - 0.5) - Math.abs(other.share - 0.5));
  for (const tick of byRank) {
    if (kept.every((other) => Math.abs(other.y - tick.y) >= roomY)) kept.push(tick);
  }
  return kept.sort((one, other) => one.y - other.y);
}
