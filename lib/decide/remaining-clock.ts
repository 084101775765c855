import { between } from '../estimate/life.js';
import { dateText, DAYS_PER_YEAR, daysAfter, flightHoursAfter, type Calendar } from '../scenario/calendar.js';

/** Turns landings from now into flight hours, days and dates. */
export class ClockFromNow {
  /** Days from the start of the season to today; in a later year, with the years before. */
  readonly today: number;
  /** Landings of the season, and of years before it, that are done by today. */
  private readonly done: number;
  private readonly calendar: Calendar;

  /**
   * @param calendar landings of a year.
   * @param flown landings since the tires were new.
   * @param dayOfSeason today, days since the start of the season; null: that of the last landing of tires fitted at it.
   */
  constructor(calendar: Calendar, flown: number, dayOfSeason: number | null) {
    this.calendar = calendar;
    this.today = dayOfSeason ?? daysAfter(calendar, flown);
    this.done = dayOfSeason === null ? flown : landingsUpTo(calendar, dayOfSeason);
  }

  /** Flight hours from now, h. */
  hours(landings: number): number {
    const at = (count: number): number => flightHoursAfter(this.calendar, this.done + count);
    return between(at, landings) - at(0);
  }

  /** Days from now. */
  days(landings: number): number {
    if (landings <= 0) return 0;
    const at = (count: number): number =>
      count <= 0 ? 0 : Math.max(0, daysAfter(this.calendar, this.done + count) - this.today);
    return between(at, landings);
  }

  /** Day and month, so many days from now. */
  date(days: number): string {
    return dateText(this.calendar, this.today + days);
  }

  /** Landings from now that are done within some flight hours. */
  landingsInHours(hours: number): number {
    return this.mostLandings((landings) => this.hours(landings) <= hours * (1 + 1e-9));
  }

  /** Landings from now that are done within some days. */
  landingsInDays(days: number): number {
    return this.mostLandings((landings) => this.days(landings) <= days);
  }

  /** Landings left in the season: from now to its last one, 0 if that is done. */
  landingsInSeason(): number {
    const { landingsPerYear } = this.calendar;
    const rest = this.done % landingsPerYear;
    return rest === 0 && this.done > 0 ? 0 : landingsPerYear - rest;
  }

  private mostLandings(fits: (landings: number) => boolean): number {
    let low = 0;
    let high = 1;
    while (fits(high)) {
      low = high;
      high *= 2;
    }
    while (high - low > 1) {
      const middle = Math.floor((low + high) / 2);
      if (fits(middle)) low = middle;
      else high = middle;
    }
    return low;
  }
}

/** Landings of the year done by a day of the season. */
function landingsUpTo({ day, landingsPerYear }: Calendar, dayOfSeason: number): number {
  const next = day.findIndex((each) => each > dayOfSeason % DAYS_PER_YEAR);
  return next < 0 ? landingsPerYear : next;
}

/**
 * Landings flown in so many flight hours by tires fitted at the start of a season, to the nearest landing.
 *
 * @param calendar landings of a year.
 * @param hours flight hours, h, 0 or more.
 */
export function landingsInHours(calendar: Calendar, hours: number): number {
  const years = Math.floor(hours / calendar.flightHoursPerYear);
  const rest = hours - years * calendar.flightHoursPerYear;
  const next = calendar.hoursDone.findIndex((done) => done >= rest);
  const upper = next < 0 ? calendar.landingsPerYear : next + 1;
  const before = upper >= 2 ? calendar.hoursDone[upper - 2]! : 0;
  const after = calendar.hoursDone[upper - 1]!;
  const isUpper = rest > 0 && rest - before >= after - rest;
  return years * calendar.landingsPerYear + (isUpper ? upper : upper - 1);
}
