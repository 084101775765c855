import { parseQuantity, type Dimension } from '../units.js';
import { daysBetweenMonths, SECONDS_PER_DAY } from './calendar.js';
import type { Scenario } from './schema/index.js';
import { monthNames } from './schema/ground.js';
import { TODAY_DEFAULTS } from './schema/today.js';

/** A groove depth read on a main tire, SI units. */
export interface CompiledReading {
  readonly wheel: 'left' | 'right';
  readonly band: 'centre' | 'inner shoulder' | 'outer shoulder' | 'shallowest';
  readonly place: 'mean' | 'worst';
  readonly grooveM: number;
  readonly errorM: number;
  readonly stepM: number;
}

/** Main tires as they are today, SI units; null where nothing is stated. */
export interface CompiledToday {
  readonly setup: string;
  readonly mix: string;
  readonly flightHours: number | null;
  readonly landings: number | null;
  readonly ageDays: number | null;
  /** Days since the start of the season. */
  readonly dayOfSeason: number | null;
  readonly mainPa: number | null;
  readonly readings: readonly CompiledReading[];
  /** Chance to pass the tread limit before the next inspection that is accepted. */
  readonly latestChance: number;
}

function siOf(text: string, dimension: Dimension): number {
  const read = parseQuantity(text, dimension);
  if (!read.ok) throw new RangeError(`"${text}": ${read.reason}`);
  return read.si;
}

/** Standard deviation of a groove reading where none is stated, m. */
export const READING_ERROR_M: number = siOf(TODAY_DEFAULTS.readingError, 'length');
/** Step of a reading where none is stated, m. */
export const READING_STEP_M: number = siOf(TODAY_DEFAULTS.readingStep, 'length');
/** Accepted chance to pass the limit unseen where none is stated. */
export const LATEST_CHANCE: number = siOf(TODAY_DEFAULTS.latestChance, 'share');

const HOUR_S = 3600;

/**
 * Today's tires in SI units.
 *
 * @param today as checked.
 * @param firstMonth month in which the season begins, 0 January to 11 December.
 */
export function compileToday(today: NonNullable<Scenario['today']>, firstMonth: number): CompiledToday {
  const { flightHours, landings, age, month, dayOfMonth, mainPressure } = today;
  const errorM = today.readingError ?? READING_ERROR_M;
  const stepM = today.readingStep ?? READING_STEP_M;
  return {
    setup: today.setup,
    mix: today.mix,
    flightHours: flightHours === undefined ? null : flightHours / HOUR_S,
    landings: landings ?? null,
    ageDays: age === undefined ? null : age / SECONDS_PER_DAY,
    dayOfSeason:
      month === undefined
        ? null
        : daysBetweenMonths(firstMonth, monthNames.indexOf(month)) + (dayOfMonth ?? 1) - 1,
    mainPa: mainPressure ?? null,
    readings: today.readings.map(({ wheel, band, place, groove, error }) => ({
      wheel,
      band,
      place,
      grooveM: groove,
      errorM: error ?? errorM,
      stepM,
    })),
    latestChance: today.latestChance ?? LATEST_CHANCE,
  };
}
