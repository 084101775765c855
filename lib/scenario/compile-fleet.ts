import { monthsBetween, SECONDS_PER_DAY } from './calendar.js';
import { compileScenario, type CompiledScenario } from './compile.js';
import type { Scenario } from './schema/index.js';

type FleetEntry = NonNullable<Scenario['fleet']>['airplanes'][string];

/** A month of the season with landings. */
export interface FlownMonth {
  readonly month: string;
  readonly landings: number;
  /** Landings of the season before it. */
  readonly firstLanding: number;
  /** True if the gear set may be changed before its first landing. */
  readonly mayChange: boolean;
}

/** Airplanes of the fleet that fly alike. */
export interface CompiledFleetAirplane {
  readonly name: string;
  readonly count: number;
  /** Index into the mixes of its scenario. */
  readonly mix: number;
  /** Indices into the set-ups of its scenario. */
  readonly gearSets: readonly number[];
  readonly months: readonly FlownMonth[];
  /** The scenario with this airplane and its season. */
  readonly scenario: CompiledScenario;
}

/** The fleet and what a change of gear sets takes. */
export interface CompiledFleet {
  readonly airplanes: readonly CompiledFleetAirplane[];
  readonly swap: {
    /** Money for one change; null without a price. */
    readonly price: number | null;
    readonly daysLost: number;
    /** Most changes in a year. */
    readonly most: number;
  };
}

/**
 * The fleet of a scenario, each airplane with its own compiled scenario.
 *
 * @param scenario a checked scenario.
 * @returns the fleet; null if the scenario has none.
 */
export function compileFleet(scenario: Scenario): CompiledFleet | null {
  const { fleet } = scenario;
  if (fleet === undefined) return null;
  const { swap } = fleet;
  return {
    airplanes: Object.entries(fleet.airplanes).map(([name, entry]) => {
      const compiled = compileForAirplane(scenario, entry, [entry.mix]);
      return {
        name,
        count: entry.count ?? 1,
        mix: compiled.mixes.findIndex((mix) => mix.name === entry.mix),
        gearSets: entry.gearSets.map((setup) => compiled.setups.findIndex((one) => one.name === setup)),
        months: flownMonths(entry.season ?? scenario.season, swap.months),
        scenario: compiled,
      };
    }),
    swap: {
      price: swap.price ?? null,
      daysLost: swap.daysLost / SECONDS_PER_DAY,
      most: swap.most ?? Infinity,
    },
  };
}

/**
 * The scenario with an airplane of its fleet and its season.
 *
 * @param scenario a checked scenario.
 * @param entry airplane and season, those of the scenario where it does not say.
 * @param mixes names of the mixes that are flown: others by month may lack months of this season and are left out.
 */
export function compileForAirplane(
  scenario: Scenario,
  { airplane = scenario.airplane, season = scenario.season }: Pick<FleetEntry, 'airplane' | 'season'>,
  mixes: readonly string[],
): CompiledScenario {
  const monthly = Object.entries(scenario.monthlyMixes ?? {}).filter(([name]) => mixes.includes(name));
  return compileScenario({
    ...scenario,
    airplane,
    season,
    monthlyMixes: Object.fromEntries(monthly),
    today: undefined,
  });
}

/**
 * Months of a season with landings, and where the gear set may be changed: at the start of a month that allows it, or
 * in one without landings since the month flown before. The year repeats, so the first month follows the last one.
 *
 * @param season a checked season.
 * @param changes names of the months that allow a change.
 */
export function flownMonths(season: Scenario['season'], changes: readonly string[]): FlownMonth[] {
  const flown = season.months.filter(({ landings }) => landings > 0);
  let firstLanding = 0;
  return flown.map(({ month, landings }, index) => {
    const before = flown[(index + flown.length - 1) % flown.length]!.month;
    const since = [...monthsBetween(before, month), month];
    const entry = { month, landings, firstLanding, mayChange: since.some((name) => changes.includes(name)) };
    firstLanding += landings;
    return entry;
  });
}
