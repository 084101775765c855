import type { PressurePoint, PressureSweep } from '../decide/pressure-types.js';
import { normalMultiplier } from '../estimate/interval.js';
import { percentText } from '../present/words.js';
import { amountText, oneInText, percentSpan, spanText } from './figures.js';
import { clearancePanel, pushPanel } from './inflation-handling.js';
import { AMOUNT_LABELS, readingOf, upwardRange } from './inflation-reading.js';
import { LINE_STYLES, type PressurePanel, type PressureReading } from './pressure-panel.js';

const PERCENT_LABELS = "format(100 * datum.value, '.3~r') + ' %'";

/**
 * The panels of a sweep: life, chance of a flat, push force, clearance, as far as there are data.
 *
 * @param sweep of the pressure.
 */
export function inflationPanels(sweep: PressureSweep): PressurePanel[] {
  const { points } = sweep;
  return [
    lifePanel(points),
    flatPanel(points),
    ...pushPanel(points),
    ...clearancePanel(points, 'Room in the fairing', (kind) => !kind.startsWith('propeller')),
    ...clearancePanel(points, 'Propeller clearance', (kind) => kind.startsWith('propeller')),
  ];
}

function lifePanel(points: readonly PressurePoint[]): PressurePanel {
  const range = upwardRange(
    points.flatMap(({ lifeHours: { p10, p50, p90, p50Interval, horizon } }) => [
      p10,
      p50,
      p90,
      p50Interval.lower,
      p50Interval.upper,
      p90 === null ? horizon : null,
    ]),
  );
  const readings = points.map((point) => {
    const { p10, p50, p90, p50Interval } = point.lifeHours;
    const { lower, upper } = p50Interval;
    return {
      ...readingOf(point),
      value: p50,
      band: [p10, p90] as const,
      error: [lower, upper] as const,
      valueText: p50 === null ? 'median beyond the horizon' : `median ${amountText(p50)} h`,
      moreText: `${spanText(p10, p90)} h; ${lower === null ? 'not known' : `${spanText(lower, upper)} h`}`,
    };
  });
  return {
    title: 'How long the main tires last; shade: 8 sets in 10',
    axisTitle: `flight hours (h)${range.type === 'log' ? ', log' : ''}`,
    range,
    series: [{ name: 'half of the sets last', style: LINE_STYLES.blue, readings }],
    levels: [],
    labelExpr: AMOUNT_LABELS,
    endText: amountText,
    moreTitle: '8 sets in 10; simulation error of the median, 95 %',
  };
}

function flatPanel(points: readonly PressurePoint[]): PressurePanel {
  const reach = normalMultiplier(0.95);
  const flats = points.map((point): PressureReading => {
    const { estimate } = point.flatSeason;
    const [lower, upper] = asChances(point.flatSeason.lower, point.flatSeason.upper);
    return {
      ...readingOf(point),
      value: estimate,
      error: [lower, upper],
      valueText: chanceText(estimate),
      moreText: percentSpan(lower, upper),
    };
  });
  const pinches = points.map((point): PressureReading => {
    const { estimate, standardError } = point.pinchSeason;
    const [lower, upper] = asChances(estimate - reach * standardError, estimate + reach * standardError);
    return {
      ...readingOf(point),
      value: estimate,
      error: [lower, upper],
      valueText: chanceText(estimate),
      moreText: percentSpan(lower, upper),
    };
  });
  // A pinch that hardly ever happens must not stretch the axis.
  const range = upwardRange(
    flats.flatMap(({ value, error }) => [value, error?.[0] ?? null, error?.[1] ?? null]),
  );
  return {
    title: 'Chance of a flat in a season',
    axisTitle: `chance (%)${range.type === 'log' ? ', log' : ''}`,
    range,
    series: [
      { name: 'any flat', style: { ...LINE_STYLES.vermilion, dash: [1, 0] }, readings: flats },
      { name: 'a pinch on the rim', style: { ...LINE_STYLES.purple, dash: [5, 3] }, readings: pinches },
    ],
    levels: [],
    labelExpr: PERCENT_LABELS,
    endText: percentText,
    moreTitle: 'simulation error, 95 %',
  };
}

/** Ends of an interval kept to what a chance can be. */
function asChances(lower: number, upper: number): readonly [number, number] {
  return [Math.max(0, lower), Math.min(1, upper)];
}

function chanceText(chance: number): string {
  return chance === 0 ? 'none met' : `${percentText(chance)} (${oneInText(chance)})`;
}
