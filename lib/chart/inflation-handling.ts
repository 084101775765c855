import type { PressureClearance, PressurePoint } from '../decide/pressure-types.js';
import { formatQuantity } from '../units.js';
import { amountText } from './figures.js';
import { AMOUNT_LABELS, readingOf, upwardRange } from './inflation-reading.js';
import type { AxisRange } from './log-axis.js';
import { millimetres, psiText, rounded } from './measures.js';
import {
  LINE_STYLES,
  type LineStyle,
  type PressurePanel,
  type PressureReading,
  type PressureSeries,
} from './pressure-panel.js';

/** Soft ground would press the forces on hard ground, which limits are about, into a line. */
const FORCE_RATIO = 4;
const LINEAR_PADDING = 1.08;

/**
 * Force to push the airplane by hand, a line for each surface.
 *
 * @param points of the sweep.
 * @returns a panel, or none where no force is known.
 */
export function pushPanel(points: readonly PressurePoint[]): PressurePanel[] {
  const surfaces = [...new Set(points.flatMap(({ push }) => push.map(({ surface }) => surface)))];
  const series = surfaces.flatMap((surface, place): PressureSeries[] => {
    const readings = points.flatMap((point): PressureReading[] => {
      const found = point.push.find((each) => each.surface === surface);
      if (found === undefined || found.forceN === null) return [];
      const { forceN, people } = found;
      return [
        {
          ...readingOf(point),
          value: rounded(forceN, 1),
          valueText: forceText(forceN),
          moreText: people === null ? 'not known' : String(Number(people.toPrecision(2))),
        },
      ];
    });
    return readings.length === 0 ? [] : [{ name: surface, style: styleOf(place), readings }];
  });
  if (series.length === 0) return [];
  const levels = limitsOf(points, (code) => code === 'push by hand').map((value) => ({
    value,
    label: `limit ${forceText(value)}`,
  }));
  const range = upwardRange([...valuesOf(series), ...levels.map(({ value }) => value)], FORCE_RATIO);
  return [
    {
      title: 'Force to keep it rolling by hand on level ground (100 N = 22 lbf)',
      axisTitle: `force (N)${range.type === 'log' ? ', log' : ''}`,
      range,
      series,
      levels,
      labelExpr: AMOUNT_LABELS,
      endText: amountText,
      moreTitle: 'people to share it',
    },
  ];
}

function forceText(forceN: number): string {
  return `${formatQuantity(forceN, 'force', 'N', 3)} (${formatQuantity(forceN, 'force', 'lbf', 3)})`;
}

/**
 * Gaps at the cold setting, with those at the other pressures of the season as a shade.
 *
 * @param points of the sweep.
 * @param title of the panel.
 * @param wanted which gaps.
 * @returns a panel, or none where no gap is known.
 */
export function clearancePanel(
  points: readonly PressurePoint[],
  title: string,
  wanted: (kind: string) => boolean,
): PressurePanel[] {
  const kinds = [
    ...new Set(points.flatMap(({ clearances }) => clearances.map(({ kind }) => kind)).filter(wanted)),
  ];
  if (kinds.length === 0) return [];
  const series = kinds.map((kind, place): PressureSeries => {
    const readings = points.flatMap((point): PressureReading[] => {
      const own = point.clearances.filter((each) => each.kind === kind);
      const cold = own.find(({ state }) => state === 'cold') ?? own[0];
      if (cold === undefined) return [];
      const [worst, best] = [-1, 1].map((sign) =>
        own.reduce((a, b) => (sign * (b.clearanceM - a.clearanceM) > 0 ? b : a), cold),
      ) as [PressureClearance, PressureClearance];
      return [
        {
          ...readingOf(point),
          value: millimetres(cold.clearanceM),
          band: [millimetres(worst.clearanceM), millimetres(best.clearanceM)],
          valueText: lengthText(cold.clearanceM),
          moreText: `${lengthText(worst.clearanceM)} when ${worst.state}, ${psiText(worst.gaugePa)}`,
        },
      ];
    });
    return { name: kind, style: styleOf(place), readings };
  });
  const levels = limitsOf(points, (code) => kinds.some((kind) => isCheckOf(code, kind))).map((limitM) => ({
    value: millimetres(limitM),
    label: limitM === 0 ? 'touching' : `limit ${lengthText(limitM)}`,
  }));
  const values = [...valuesOf(series), ...levels.map(({ value }) => value)];
  return [
    {
      title: `${title} (25 mm = 1 in); shade: pressures of the season`,
      axisTitle: 'gap (mm)',
      range: lengthRange(values),
      series,
      levels,
      labelExpr: AMOUNT_LABELS,
      endText: amountText,
      moreTitle: 'smallest in the season',
    },
  ];
}

/** "fairing at rest" is checked as "fairing clearance at rest", "propeller" as "propeller clearance". */
function isCheckOf(code: string, kind: string): boolean {
  const [part, ...when] = kind.split(' ');
  return code === [part, 'clearance', ...when].join(' ');
}

/** A gap as a feeler gauge tells it. */
function lengthText(lengthM: number): string {
  const inches = Number.parseFloat(formatQuantity(lengthM, 'length', 'in'));
  return `${rounded(millimetres(lengthM), 1)} mm (${rounded(inches, 2)} in)`;
}

/** An axis with zero in it, for lengths that may be negative. */
function lengthRange(values: readonly number[]): AxisRange {
  const low = Math.min(0, ...values);
  const high = Math.max(0, ...values);
  const room = (high - low || 1) * (LINEAR_PADDING - 1);
  return { type: 'linear', domain: [low < 0 ? low - room : 0, high + room], ticks: null };
}

function styleOf(place: number): LineStyle {
  const styles = Object.values(LINE_STYLES);
  return styles[place % styles.length]!;
}

function valuesOf(series: readonly PressureSeries[]): number[] {
  return series.flatMap(({ readings }) =>
    readings.flatMap(({ value, band = [] }) => [value, ...band].filter((each) => each !== null)),
  );
}

/** Limits of some checks, each once. */
function limitsOf(points: readonly PressurePoint[], wanted: (code: string) => boolean): number[] {
  const limits = points.flatMap(({ checks }) =>
    checks.flatMap(({ code, limit }) => (wanted(code) && limit !== null ? [limit] : [])),
  );
  return [...new Set(limits)];
}
