const DAY_MS = 86_400_000;
/** There were no airplanes before; an earlier year is a slip. */
const FIRST_YEAR = 1900;
const ISO_DATE = /^(\d{4})-(\d{2})-(\d{2})$/;

/**
 * Day number of an ISO date.
 *
 * @param text `2024-05-31`.
 * @returns whole days since 1 January 1970 (Gregorian calendar), or null where the text is no date of that form, or
 * lies before 1900.
 * @example
 * import { dayOfDate } from 'gravelbar';
 * dayOfDate('1970-01-02'); // => 1
 * dayOfDate('2023-02-29'); // => null
 */
export function dayOfDate(text: string): number | null {
  const parts = ISO_DATE.exec(text);
  if (parts === null) return null;
  if (Number(parts[1]) < FIRST_YEAR) return null;
  const time = Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3]));
  // Date.UTC takes 31 April for 1 May.
  return new Date(time).toISOString().startsWith(text) ? time / DAY_MS : null;
}

/**
 * ISO date of a day number.
 *
 * @param day whole days since 1 January 1970.
 * @returns `2024-05-31`.
 * @throws RangeError for a day that is no whole number or outside the years 0 to 9999.
 */
export function dateOfDay(day: number): string {
  const text = Number.isInteger(day) ? new Date(day * DAY_MS).toISOString() : '';
  if (!/^\d{4}-/.test(text)) throw new RangeError(`day must be a whole number of days; found ${day}`);
  return text.slice(0, 10);
}

/** A slip of the order of day, month and year that can be told: the ISO form of what was written, or null. */
export function likelyIsoDate(text: string): string | null {
  const parts = /^(\d{1,4})[./\s-](\d{1,2})[./\s-](\d{1,4})$/.exec(text);
  if (parts === null) return null;
  const [first, second, third] = [parts[1]!, parts[2]!, parts[3]!];
  if (first.length === 4) {
    const iso = `${first}-${second.padStart(2, '0')}-${third.padStart(2, '0')}`;
    return dayOfDate(iso) === null ? null : iso;
  }
  if (third.length !== 4) return null;
  const asDayMonth = `${third}-${second.padStart(2, '0')}-${first.padStart(2, '0')}`;
  const asMonthDay = `${third}-${first.padStart(2, '0')}-${second.padStart(2, '0')}`;
  const dayMonth = dayOfDate(asDayMonth) !== null;
  const monthDay = dayOfDate(asMonthDay) !== null;
  // Where both orders are dates nobody can tell which was meant.
  if (dayMonth === monthDay) return asDayMonth === asMonthDay && dayMonth ? asDayMonth : null;
  return dayMonth ? asDayMonth : asMonthDay;
}
