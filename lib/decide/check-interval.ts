import { normalFromUniform } from '../numeric/normal.js';
import { log } from '../numeric/elementary.js';
import { gaugePressurePa, referencePressurePa, remainingExcessShare } from '../models/inflation.js';
import { fillUniforms, openStream, streamKey } from '../random/stream.js';
import { DAYS_PER_YEAR, SECONDS_PER_DAY, type Calendar } from '../scenario/calendar.js';
import type { CompiledScenario, CompiledSetup, CompiledStrip } from '../scenario/compile.js';
import type { CheckInterval } from './pressure-types.js';

/** Times that a tire is set and read again, in each world. */
const SETTINGS_PER_WORLD = 16;
const UNIFORMS_PER_SETTING = 4;
/** A pause between seasons no longer than this is none, days. */
const LONGEST_PAUSE_DAYS = 31;

/** A tire set on one landing day, to be read on a later one. */
interface Setting {
  /** Landing on whose day it is set. */
  readonly landing: number;
  /** Temperature then, K. */
  readonly temperatureK: number;
  /** Standard score of the temperature at the reading. */
  readonly laterScore: number;
  /** Day after the setting on which a slow leak begins. */
  readonly leakDay: number;
  readonly lossPerDay: number;
  readonly leakAtStartPerDay: number;
  readonly leakGrowthPerDay: number;
  /** Error of the gauge: set high where positive, Pa. */
  readonly biasPa: number;
}

/** What is asked about check intervals. */
export interface CheckQuestion {
  /** Cold setting of the main tires, Pa gauge. */
  readonly setPa: number;
  /** Lower end of the range, Pa gauge. */
  readonly lowPa: number;
  /** Share of readings that may lie below it. */
  readonly share: number;
}

/**
 * Finds the longest time between pressure checks of which no more than a share of readings lie below a pressure.
 *
 * A main tire is set cold at the base on a landing day of the season and read at the first landing at least the
 * interval later, in the temperature of that month and at the lowest place of the mix (gauge pressure is least there).
 * Between them it loses air by permeation and by slow leaks that begin at random. Readings are drawn over worlds,
 * days, temperatures and leaks, the same draws for every interval.
 *
 * @param scenario compiled scenario.
 * @param setup the set-up; its tire and present interval.
 * @param strips where it lands.
 * @param worlds values of the assumptions, one array per world.
 * @param question setting, lower end and share.
 * @returns the interval, and what the present one gives.
 */
export function checkInterval(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  strips: readonly CompiledStrip[],
  worlds: readonly Float64Array[],
  { setPa, lowPa, share }: CheckQuestion,
): CheckInterval {
  const { calendar } = scenario;
  const settings = worlds.flatMap((world, index) => drawSettings(scenario, setup, world, index));
  const airPa = strips.reduce((most, { ambientPa }) => Math.max(most, ambientPa), scenario.basePa);
  const shareAt = (days: number): number | null => {
    let readings = 0;
    let low = 0;
    for (const setting of settings) {
      const later = landingAfter(calendar, setting.landing, days);
      if (later === null) continue;
      readings++;
      if (readingPa(scenario, setting, setPa, airPa, later) < lowPa) low++;
    }
    return readings === 0 ? null : low / readings;
  };
  const seasonDays = Math.floor(seasonLengthDays(calendar));
  const presentDays = setup.checkEveryDays;
  return {
    setPa,
    lowPa,
    share,
    longestDays: longestWithin(shareAt, share, seasonDays),
    presentDays,
    // An interval longer than the season is one reading at its end.
    presentShare: shareAt(Math.min(presentDays, seasonDays)) ?? 0,
    seasonDays,
  };
}

/** Longest whole number of days up to which no interval has a greater share of low readings; null if all keep to it. */
function longestWithin(
  shareAt: (days: number) => number | null,
  share: number,
  seasonDays: number,
): number | null {
  for (let days = 1; days <= seasonDays; days++) {
    const low = shareAt(days);
    if (low !== null && low > share) return days - 1;
  }
  return null;
}

/** True where the airplane flies all year: the season goes over into the next one. */
function isAllYear({ day, landingsPerYear }: Calendar): boolean {
  return DAYS_PER_YEAR - day[landingsPerYear - 1]! + day[0]! <= LONGEST_PAUSE_DAYS;
}

function seasonLengthDays(calendar: Calendar): number {
  const { day, landingsPerYear } = calendar;
  return isAllYear(calendar) ? DAYS_PER_YEAR : day[landingsPerYear - 1]! - day[0]!;
}

interface Later {
  readonly afterDays: number;
  /** Mean air temperature then, K. */
  readonly meanK: number;
}

/** First landing at least a number of days after another one of the same season; null if there is none. */
function landingAfter(calendar: Calendar, landing: number, days: number): Later | null {
  const { day, temperatureK, landingsPerYear } = calendar;
  const due = day[landing]! + days;
  let low = landing;
  let high = landingsPerYear;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (day[middle]! >= due) high = middle;
    else low = middle + 1;
  }
  if (low < landingsPerYear) return { afterDays: day[low]! - day[landing]!, meanK: temperatureK[low]! };
  if (!isAllYear(calendar)) return null;
  const dueNext = due - DAYS_PER_YEAR;
  let next = 0;
  while (next < landingsPerYear - 1 && day[next]! < dueNext) next++;
  return { afterDays: DAYS_PER_YEAR + day[next]! - day[landing]!, meanK: temperatureK[next]! };
}

function drawSettings(
  scenario: CompiledScenario,
  setup: CompiledSetup,
  world: Float64Array,
  index: number,
): Setting[] {
  const { calendar, global, temperatureSpreadK } = scenario;
  const value = (assumption: number): number => world[assumption]!;
  const stream = openStream(streamKey(scenario.seed, 'pressure readings', index));
  const uniforms = new Float64Array(UNIFORMS_PER_SETTING * SETTINGS_PER_WORLD);
  fillUniforms(stream, uniforms, uniforms.length);
  const leaksPerDay = value(global.slowLeaks) * SECONDS_PER_DAY;
  const leakAtStartPerDay = value(global.leakAtStart) * SECONDS_PER_DAY;
  const shared = {
    lossPerDay: value(setup.main.tubed ? global.tubePermeation : global.tubelessPermeation) * SECONDS_PER_DAY,
    leakAtStartPerDay,
    leakGrowthPerDay: leakAtStartPerDay * value(global.leakGrowth) * SECONDS_PER_DAY,
    biasPa: value(global.gaugeBias),
  };
  return Array.from({ length: SETTINGS_PER_WORLD }, (_, k) => {
    const [day, temperature, later, leak] = uniforms.subarray(
      UNIFORMS_PER_SETTING * k,
      UNIFORMS_PER_SETTING * (k + 1),
    ) as unknown as [number, number, number, number];
    const landing = Math.floor(day * calendar.landingsPerYear);
    return {
      ...shared,
      landing,
      temperatureK: calendar.temperatureK[landing]! + temperatureSpreadK * normalFromUniform(temperature),
      laterScore: normalFromUniform(later),
      leakDay: leaksPerDay > 0 ? -log(1 - leak) / leaksPerDay : Infinity,
    };
  });
}

function readingPa(
  { basePa, temperatureSpreadK }: CompiledScenario,
  setting: Setting,
  setPa: number,
  airPa: number,
  { afterDays, meanK }: Later,
): number {
  const { lossPerDay, leakAtStartPerDay, leakGrowthPerDay } = setting;
  const coldPa = Math.max(0, setPa + setting.biasPa);
  const leaking = Math.max(0, afterDays - setting.leakDay);
  const leaked = leaking * (leakAtStartPerDay + 0.5 * leakGrowthPerDay * leaking);
  const excessPa =
    (referencePressurePa(coldPa, basePa, setting.temperatureK) - basePa) *
    remainingExcessShare(1, lossPerDay * afterDays + leaked);
  return gaugePressurePa(basePa + excessPa, airPa, meanK + temperatureSpreadK * setting.laterScore);
}
