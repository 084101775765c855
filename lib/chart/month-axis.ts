import type { MonthSpan } from '../scenario/calendar.js';
import { chartData, type ChartPart } from './spec.js';

/** With more months than this, their names are cut to three letters. */
const MOST_FULL_NAMES = 6;
const SHORT_LETTERS = 3;

/**
 * Encoding of days of the season along the bottom, with the names of the months between their borders.
 *
 * @param months of the season, in order, without gaps.
 * @param axis changes of the axis.
 */
export function monthsAlong(months: readonly MonthSpan[], axis: ChartPart = {}): ChartPart {
  const middle = ({ fromDay, toDay }: MonthSpan): number => (fromDay + toDay) / 2;
  const letters = months.length > MOST_FULL_NAMES ? SHORT_LETTERS : Infinity;
  const names = Object.fromEntries(
    months.map((month) => [String(middle(month)), month.name.slice(0, letters)]),
  );
  return {
    field: 'day',
    type: 'quantitative',
    title: 'month of the season',
    scale: { domain: [months[0]!.fromDay, months[months.length - 1]!.toDay], nice: false, zero: false },
    axis: {
      values: months.map(middle),
      labelExpr: `${JSON.stringify(names)}[datum.value]`,
      grid: false,
      ticks: false,
      labelPadding: 6,
      ...axis,
    },
  };
}

/** Borders of the months, as a layer. */
export function monthRules(months: readonly MonthSpan[]): ChartPart {
  const { scale, field, type } = monthsAlong(months);
  return {
    data: chartData(months.map(({ fromDay }) => ({ day: fromDay }))),
    mark: { type: 'rule', color: '#DDDDDD', aria: false },
    encoding: { x: { field, type, scale } },
  };
}

/**
 * Numbers the stretches of a season between months in which nothing is flown, so that no line runs across these.
 *
 * @param days of the points of a line, ascending.
 * @param months of the season.
 * @returns the number of its stretch for each point.
 */
export function flownStretches(days: readonly number[], months: readonly MonthSpan[]): number[] {
  let stretch = 0;
  let before = -1;
  return days.map((day) => {
    const month = months.findIndex(({ toDay }) => day < toDay);
    if (before >= 0 && month > before + 1) stretch++;
    before = month;
    return stretch;
  });
}
