import { monthNames } from './schema/ground.js';

const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;
const HOUR_S = 3600;

/** Seconds in a day. */
export const SECONDS_PER_DAY = 86_400;

/** Days in the year of the simulator: every year is alike, leap days are left out. */
export const DAYS_PER_YEAR = 365;

/** Mean length of a month, days. */
export const DAYS_PER_MONTH = DAYS_PER_YEAR / 12;

/** Landings of one year in order; the pattern repeats every year. */
export interface Calendar {
  /** Month in which the season begins, 0 January to 11 December. */
  readonly firstMonth: number;
  readonly landingsPerYear: number;
  readonly flightHoursPerYear: number;
  /** Day of each landing, counted from the first day of the first month of the season. */
  readonly day: Float64Array;
  /** Days since the landing before; the first counts from the last landing of the year before. */
  readonly gapDays: Float64Array;
  /** Flight hours of the year flown when the landing is done, h. */
  readonly hoursDone: Float64Array;
  /** Mean air temperature of the month, K. */
  readonly temperatureK: Float64Array;
}

/** A month of the season, as checked. */
export interface SeasonMonth {
  readonly month: string;
  readonly landings: number;
  readonly flightHours: number;
  readonly temperature: number;
}

/**
 * Spreads the landings of each month evenly over its days.
 *
 * @param months months of the season in order, at least one landing in all.
 * @returns the landings of one year.
 */
export function compileCalendar(months: readonly SeasonMonth[]): Calendar {
  const landingsPerYear = months.reduce((sum, month) => sum + month.landings, 0);
  const day = new Float64Array(landingsPerYear);
  const gapDays = new Float64Array(landingsPerYear);
  const hoursDone = new Float64Array(landingsPerYear);
  const temperatureK = new Float64Array(landingsPerYear);
  const firstMonth = monthNames.indexOf(months[0]?.month ?? '');
  let landing = 0;
  let hours = 0;
  for (const month of months) {
    const index = monthNames.indexOf(month.month);
    const start = daysBetweenMonths(firstMonth, index);
    const length = DAYS_IN_MONTH[index] ?? 30;
    for (let k = 0; k < month.landings; k++, landing++) {
      hours += month.flightHours / HOUR_S / month.landings;
      day[landing] = start + ((k + 0.5) / month.landings) * length;
      // Equal to the last bit within a month, so that what follows from a gap is worked out once.
      gapDays[landing] = length / month.landings;
      hoursDone[landing] = hours;
      temperatureK[landing] = month.temperature;
    }
  }
  let firstOfMonth = 0;
  for (const month of months) {
    if (month.landings === 0) continue;
    const before = firstOfMonth === 0 ? day[landingsPerYear - 1]! - DAYS_PER_YEAR : day[firstOfMonth - 1]!;
    gapDays[firstOfMonth] = day[firstOfMonth]! - before;
    firstOfMonth += month.landings;
  }
  return { firstMonth, landingsPerYear, flightHoursPerYear: hours, day, gapDays, hoursDone, temperatureK };
}

/**
 * Flight hours flown after a number of landings.
 *
 * @param calendar the landings of one year.
 * @param landings landings done, >= 0.
 * @returns flight hours, h.
 */
export function flightHoursAfter(calendar: Calendar, landings: number): number {
  const years = Math.floor(landings / calendar.landingsPerYear);
  const rest = landings - years * calendar.landingsPerYear;
  return years * calendar.flightHoursPerYear + (rest > 0 ? calendar.hoursDone[rest - 1]! : 0);
}

/**
 * Calendar days from the start of the first season to a landing.
 *
 * @param calendar the landings of one year.
 * @param landings landings done, >= 0; 0 gives 0.
 * @returns days.
 */
export function daysAfter(calendar: Calendar, landings: number): number {
  if (landings <= 0) return 0;
  const years = Math.floor((landings - 1) / calendar.landingsPerYear);
  return years * DAYS_PER_YEAR + calendar.day[landings - 1 - years * calendar.landingsPerYear]!;
}

/** A month on the calendar of the season. */
export interface MonthSpan {
  readonly name: string;
  /** Days from the start of the season to its first moment, and to its end. */
  readonly fromDay: number;
  readonly toDay: number;
}

/**
 * The months from the start of the season to that of its last landing.
 *
 * @param calendar the landings of one year.
 * @returns at least one month, in order, without gaps.
 */
export function seasonMonths(calendar: Calendar): MonthSpan[] {
  const lastDay = calendar.day[calendar.landingsPerYear - 1] ?? 0;
  const spans: MonthSpan[] = [];
  for (let index = calendar.firstMonth, fromDay = 0; fromDay <= lastDay; index = (index + 1) % 12) {
    const toDay = fromDay + DAYS_IN_MONTH[index]!;
    spans.push({ name: monthNames[index]!, fromDay, toDay });
    fromDay = toDay;
  }
  return spans;
}

/**
 * A day of the season as a date.
 *
 * @param calendar the landings of one year.
 * @param day days since the start of the season, >= 0; years are alike, so it may lie in a later one.
 * @returns day and month, for example "14 June".
 */
export function dateText(calendar: Calendar, day: number): string {
  let rest = Math.floor(day) % DAYS_PER_YEAR;
  let index = calendar.firstMonth;
  while (rest >= DAYS_IN_MONTH[index]!) {
    rest -= DAYS_IN_MONTH[index]!;
    index = (index + 1) % 12;
  }
  return `${rest + 1} ${monthNames[index]!}`;
}

/** Days of a month, 0 January to 11 December. */
export function daysInMonth(month: number): number {
  return DAYS_IN_MONTH[month]!;
}

/** Days from the first of a month to the first of another one, 0 January to 11 December. */
export function daysBetweenMonths(from: number, to: number): number {
  let days = 0;
  for (let month = from; month !== to; month = (month + 1) % 12) days += DAYS_IN_MONTH[month]!;
  return days;
}

/**
 * Names of the months between two months of the year, both left out.
 *
 * @param from name of a month.
 * @param to name of a month; the same as `from` gives the other eleven.
 */
export function monthsBetween(from: string, to: string): string[] {
  const names: string[] = [];
  for (let month = (monthNames.indexOf(from) + 1) % 12; monthNames[month] !== to; month = (month + 1) % 12) {
    names.push(monthNames[month]!);
  }
  return names;
}
