import { dateOfDay, dayOfDate } from '../../dist/calibrate/dates.js';
import { SEASON_BEFORE, SEASONS } from './truth.js';

/** Mean air temperature at landing by month, K: the season of the defaults. */
const TEMPERATURE_K = { '05': 281.15, '06': 287.15, '07': 290.15, '08': 288.15, '09': 281.15 };
const MOST_LANDINGS_PER_DAY = 4;

/** Flying days of a season with landings on each, chosen at random. */
function flyingDays({ from, to }, landings, uniform) {
  const [first, last] = [dayOfDate(from), dayOfDate(to)];
  const perDay = new Map();
  for (let left = landings; left > 0;) {
    const day = first + Math.floor(uniform() * (last - first + 1));
    if (perDay.has(day)) continue;
    const count = Math.min(left, 1 + Math.floor(uniform() * MOST_LANDINGS_PER_DAY));
    perDay.set(day, count);
    left -= count;
  }
  return [...perDay].sort(([one], [other]) => one - other);
}

/**
 * The landings of an airplane as a calendar of the simulator: all seasons as one, so that tires and wear go on from one
 * to the next.
 *
 * @returns the calendar, with day number and flight hours of each landing.
 */
export function makeCalendar({ perSeason, before = 0 }, uniform) {
  const seasons = SEASONS.map((season) => flyingDays(season, perSeason, uniform));
  if (before > 0) seasons.unshift(flyingDays(SEASON_BEFORE, before, uniform));
  const dayNumber = seasons.flat().flatMap(([day, count]) => new Array(count).fill(day));
  const hours = dayNumber.map(() => Math.round(10 * (0.6 + 0.6 * uniform())) / 10);
  const place = dayNumber.map((day, i) => i - dayNumber.indexOf(day));
  const day = Float64Array.from(dayNumber, (number, i) => number - dayNumber[0] + 0.4 + 0.08 * place[i]);
  const gapDays = day.map((value, i) => (i === 0 ? 0 : value - day[i - 1]));
  let sum = 0;
  const hoursDone = Float64Array.from(hours, (each) => (sum += each));
  const temperatureK = Float64Array.from(dayNumber, (number) => TEMPERATURE_K[dateOfDay(number).slice(5, 7)]);
  const calendar = {
    firstMonth: 4,
    landingsPerYear: day.length,
    flightHoursPerYear: sum,
    day,
    gapDays,
    hoursDone,
    temperatureK,
  };
  return { calendar, dayNumber, hours };
}
