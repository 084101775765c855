/** What is stated about tires of today, checked. Every function throws a UsageError for what cannot be. */
import { UsageError } from '../problems.js';
import { DAYS_PER_YEAR, daysAfter } from '../scenario/calendar.js';
import { LATEST_CHANCE } from '../scenario/compile-today.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { horizonLandings } from '../simulate/pairing-run.js';
import { landingsInHours } from './remaining-clock.js';
import type { TodayTires } from './remaining-types.js';

/** Readings deeper than the new groove by so much more than their error are a slip. */
const DEEPEST_ERRORS = 4;

/** Today in days since the start of the season; null where it is not stated. */
export function dayOfSeason({ dayOfSeason: day = null }: TodayTires): number | null {
  if (day === null || (day >= 0 && day < DAYS_PER_YEAR)) return day;
  throw new UsageError(`dayOfSeason is ${day}; it must be a number of days from 0 to below 365`);
}

/** Landings flown since new, within the horizon of the scenario. */
export function landingsFlown(scenario: CompiledScenario, { landings, flightHours }: TodayTires): number {
  if (landings !== null && !(Number.isSafeInteger(landings) && landings >= 0)) {
    throw new UsageError(`landings is ${landings}; it must be a whole number, 0 or more`);
  }
  if (flightHours !== null && !(flightHours >= 0 && flightHours < Infinity)) {
    throw new UsageError(`flightHours is ${flightHours}; it must be a number of hours, 0 or more`);
  }
  if (landings === null && flightHours === null) {
    throw new UsageError('flightHours or landings since both main tires were new must be given');
  }
  const flown = landings ?? landingsInHours(scenario.calendar, flightHours!);
  const horizon = horizonLandings(scenario);
  if (flown < horizon) return flown;
  throw new UsageError(
    `the tires have flown ${flown} landings, and trials are followed for ${horizon} only; raise "horizon" under "run"`,
  );
}

/** Throws where a reading cannot be. */
export function requireReadings({ readings }: TodayTires, newTreadM: number): void {
  readings.forEach(({ grooveM, errorM, stepM, wheel, band }, index) => {
    const place = `reading ${index + 1} (${wheel} ${band})`;
    for (const [name, value] of Object.entries({ grooveM, errorM, stepM })) {
      if (value >= 0 && value < Infinity) continue;
      throw new UsageError(`${name} of ${place} is ${value}; it must be a depth in metres, 0 or more`);
    }
    if (errorM === 0 && stepM === 0) {
      throw new UsageError(`${place} has neither error nor step; one must be above 0, as no gauge is exact`);
    }
    if (grooveM <= newTreadM + DEEPEST_ERRORS * errorM + stepM) return;
    throw new UsageError(
      `${place} is ${(1000 * grooveM).toFixed(1)} mm, deeper than the new groove of ${(1000 * newTreadM).toFixed(1)} mm; ` +
        'check the reading and newTread of the tire',
    );
  });
}

/** Times to reach, none if left out. */
export function requireReach(times: readonly number[] = []): readonly number[] {
  const wrong = times.find((time) => !(time >= 0 && time < Infinity));
  if (wrong === undefined) return times;
  throw new UsageError(`a time to reach is ${wrong}; it must be a number, 0 or more`);
}

/** The scenario with the pressure and the age of these tires in it. */
export function asFlown(
  scenario: CompiledScenario,
  name: string,
  { mainPa = null, ageDays = null }: TodayTires,
  flown: number,
): CompiledScenario {
  const { ageLimitDays } = scenario.habits;
  if (ageDays !== null && !(ageDays >= 0 && ageDays < ageLimitDays)) {
    throw new UsageError(
      ageDays >= ageLimitDays
        ? `the tires are ${Math.round(ageDays)} days old, and come off at ${Math.round(ageLimitDays)}: they are due now, whatever their tread`
        : `ageDays is ${ageDays}; it must be a number of days, 0 or more`,
    );
  }
  if (mainPa !== null && !(mainPa > 0 && mainPa < Infinity)) {
    throw new UsageError(`mainPa is ${mainPa}; it must be a pressure above 0 Pa`);
  }
  return {
    ...scenario,
    setups:
      mainPa === null
        ? scenario.setups
        : scenario.setups.map((setup) => (setup.name === name ? { ...setup, mainPa } : setup)),
    habits:
      ageDays === null
        ? scenario.habits
        : {
            ...scenario.habits,
            // So many days are left, whatever the calendar of the trials says of the time before.
            ageLimitDays: daysAfter(scenario.calendar, flown) + ageLimitDays - ageDays,
          },
  };
}

/** Chance to pass the limit before the next inspection that is accepted. */
export function acceptedChanceOf({ latestChance = LATEST_CHANCE }: TodayTires): number {
  if (latestChance > 0 && latestChance <= 0.5) return latestChance;
  throw new UsageError(`latestChance is ${latestChance}; it must be a share above 0, up to 0.5`);
}
