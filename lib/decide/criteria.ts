/** What set-ups can be compared by, and where the figures come from. */
import { expectedDaysLost, expectedSeasonCost, missingPrices } from '../estimate/season-figures.js';
import { UsageError } from '../problems.js';
import { flightHoursAfter } from '../scenario/calendar.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';
import { TWIN_EVERY, type Simulation } from '../simulate/simulate.js';

/** What set-ups can be compared by. */
export const CRITERIA = ['life', 'flats', 'costPerHour', 'daysLost'] as const;
/** Main tire life, flats per season, money per flight hour, or days lost per season. */
export type Criterion = (typeof CRITERIA)[number];

/** A figure of money that cannot be given, and why. */
export interface NotPriced {
  readonly priced: false;
  /** What is missing, in words. */
  readonly needs: string;
}

/** The figure of a criterion, one value per trial. */
export interface CriterionFigures {
  readonly unit: string;
  readonly better: 'more' | 'less';
  /** With flats as expected along each path: the mean with the least error. */
  readonly expected: (trials: PairingTrials) => Float64Array;
  /** As it happened, luck included. */
  readonly happened: (trials: PairingTrials) => Float64Array;
}

/** Flight hours until the first of the main tires came off; hours followed where none did. */
export function lifeHours({ calendar }: CompiledScenario, { columns }: PairingTrials): Float64Array {
  return Float64Array.from(columns.lifeLandings, (landings) => flightHoursAfter(calendar, landings));
}

/**
 * Where the figures of a criterion come from.
 *
 * @param scenario the compiled scenario that was run.
 * @param criterion one of {@link CRITERIA}; money needs prices.
 */
export function figuresOf(scenario: CompiledScenario, criterion: Criterion): CriterionFigures {
  const hours = scenario.calendar.flightHoursPerYear;
  switch (criterion) {
    case 'life': {
      const life = (trials: PairingTrials): Float64Array => lifeHours(scenario, trials);
      return { unit: 'h', better: 'more', expected: life, happened: life };
    }
    case 'flats':
      return {
        unit: 'flats per season',
        better: 'less',
        expected: ({ columns }) => columns.flatsHazard,
        happened: ({ columns }) => Float64Array.from(columns.flats),
      };
    case 'daysLost':
      return {
        unit: 'days per season',
        better: 'less',
        expected: expectedDaysLost,
        happened: ({ columns }) => Float64Array.from(columns.downDays),
      };
    case 'costPerHour': {
      const { costs } = scenario;
      if (costs === null) throw new UsageError('money cannot be compared: the scenario has no prices');
      return {
        unit: `${costs.currency} per flight hour`,
        better: 'less',
        expected: (trials) => expectedSeasonCost(costs, trials).map((cost) => cost / hours),
        happened: ({ columns }) => columns.cost.map((cost) => cost / hours),
      };
    }
  }
}

/**
 * Prices that are missing for a comparison of set-ups.
 *
 * @returns null if all are there.
 */
export function whatIsUnpriced(scenario: CompiledScenario, setups: readonly string[]): NotPriced | null {
  const needs = new Set(setups.flatMap((name) => missingPrices(scenario, setupNamed(scenario, name)) ?? []));
  return needs.size === 0 ? null : { priced: false, needs: [...needs].join('; ') };
}

/** A set-up of the scenario by name. Throws UsageError if there is none. */
export function setupNamed(scenario: CompiledScenario, name: string): CompiledScenario['setups'][number] {
  return scenario.setups[indexOfName('set-up', name, scenario.setups)]!;
}

/** Trials of the set-ups that were run on one mix, and their twins. */
export interface MixTrials {
  readonly mix: string;
  readonly setups: readonly string[];
  readonly trials: readonly PairingTrials[];
  readonly twins: readonly PairingTrials[];
}

/**
 * Trials of the set-ups on a mix.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param mix name of the runway mix.
 * @throws UsageError for a name that does not exist, or fewer than two set-ups on the mix.
 */
export function trialsOnMix(scenario: CompiledScenario, simulation: Simulation, mix: string): MixTrials {
  indexOfName('runway mix', mix, scenario.mixes);
  const indices = simulation.pairings.flatMap((pairing, index) => (pairing.mix === mix ? [index] : []));
  const trials = indices.map((index) => simulation.pairings[index]!);
  if (trials.length < 2) {
    throw new UsageError(
      `${trials.length === 0 ? 'no set-up was' : 'only one set-up was'} run on "${mix}": a comparison needs at least two`,
    );
  }
  return {
    mix,
    setups: trials.map(({ setup }) => setup),
    trials,
    twins: indices.map((index) => simulation.twins[index]!),
  };
}

/** The values of the trials that have a twin, in the order of the twins. */
export function twinned(values: Float64Array, twins: number): Float64Array {
  return Float64Array.from({ length: twins }, (_, row) => values[row * TWIN_EVERY]!);
}

/** What set-ups are chosen by where nobody says: money if all its prices are there, else life. */
export function usualCriterion(scenario: CompiledScenario, setups: readonly string[]): Criterion {
  return whatIsUnpriced(scenario, setups) === null ? 'costPerHour' : 'life';
}

/** Factor from the figures of a criterion to those of a season: money is counted by the flight hour. */
export function seasonFactor({ calendar }: CompiledScenario, criterion: Criterion): number {
  return criterion === 'costPerHour' ? calendar.flightHoursPerYear : 1;
}
