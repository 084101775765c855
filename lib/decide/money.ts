/** Money of a season as a distribution, by part. */
import { expectedShortfall, type ExpectedShortfall } from '../estimate/expected-shortfall.js';
import { DEFAULT_LEVEL } from '../estimate/interval.js';
import { meanWithInterval, type MeanEstimate } from '../estimate/paired.js';
import { quantileInterval, type QuantileInterval } from '../estimate/quantile-interval.js';
import {
  COST_PARTS,
  costColumns,
  expectedSeasonCost,
  missingPrices,
  type CostPart,
} from '../estimate/season-figures.js';
import { ratioOfSums, type Estimate } from '../estimate/shares.js';
import { splitDoubt, type ThreeDoubts } from '../estimate/uncertainty.js';
import { UsageError, properShare } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { PairingTrials } from '../simulate/columns.js';
import { indexOfName } from '../simulate/names.js';
import type { Simulation } from '../simulate/simulate.js';
import { setupNamed, twinned, type NotPriced } from './criteria.js';

/** Which pairings, and how sure the intervals are. */
export interface MoneyOptions {
  /** Name of the set-up; default: all. */
  readonly setup?: string | undefined;
  /** Name of the runway mix; default: all. */
  readonly mix?: string | undefined;
  /** Two-sided level of the intervals, default 0.95. */
  readonly level?: number | undefined;
}

/** A spread of money with its Monte Carlo errors. */
export interface MoneyFigures {
  /** Expected value, with flats as expected along each path. */
  readonly mean: MeanEstimate;
  /** Half of the seasons cost less, as they happened. */
  readonly p50: QuantileInterval;
  /** Nine seasons in ten cost less. */
  readonly p90: QuantileInterval;
  /** Mean of the worst tenth of the seasons. */
  readonly worstTenth: ExpectedShortfall;
}

/** A part of the money. */
export interface MoneyPart {
  readonly perSeason: MeanEstimate;
  readonly perFlightHour: MeanEstimate;
  /** Share of the expected money; the shares add to 1, or are all 0 if nothing is paid. */
  readonly share: Estimate;
}

/** Money of a pairing. Plain data that can be stored as JSON. */
export interface PairingMoney {
  readonly priced: true;
  readonly setup: string;
  readonly mix: string;
  readonly trials: number;
  /** Label of the prices. */
  readonly currency: string;
  readonly flightHoursPerSeason: number;
  readonly perSeason: MoneyFigures;
  readonly perFlightHour: MoneyFigures;
  readonly parts: Readonly<Record<CostPart, MoneyPart>>;
  /** The three doubts about the money of a season, as it happens. */
  readonly doubts: ThreeDoubts;
}

/** A pairing whose money cannot be told, and why. */
export interface UnpricedPairing extends NotPriced {
  readonly setup: string;
  readonly mix: string;
}

const WORST_SHARE = 0.1;

/**
 * Money of a season and of a flight hour: expected value, spread and parts.
 *
 * A season is the first year flown, begun on new tires; a tire is paid in full when it comes off, and by the share of
 * its tread used at the end of the season. The expected value and the parts hold flats as expected along each path,
 * which changes no mean (see season-figures.ts); quantiles and the worst tenth hold what happened, luck included.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param options which pairings, and the level of the intervals.
 * @returns one entry per pairing, in the order of the run; without prices it says what is missing.
 * @throws UsageError for names that do not exist or were not run, or a bad level.
 */
export function moneyOfPairings(
  scenario: CompiledScenario,
  simulation: Simulation,
  options: MoneyOptions = {},
): (PairingMoney | UnpricedPairing)[] {
  const { setup, mix, level = DEFAULT_LEVEL } = options;
  properShare('level', level);
  if (setup !== undefined) setupNamed(scenario, setup);
  if (mix !== undefined) indexOfName('runway mix', mix, scenario.mixes);
  const found = simulation.pairings.flatMap((trials, index) => {
    if (setup !== undefined && trials.setup !== setup) return [];
    if (mix !== undefined && trials.mix !== mix) return [];
    return [moneyOf(scenario, trials, simulation.twins[index]!, level)];
  });
  if (found.length > 0) return found;
  throw new UsageError(`"${setup ?? 'no set-up'}" was not run on "${mix ?? 'any mix'}"`);
}

function moneyOf(
  scenario: CompiledScenario,
  trials: PairingTrials,
  twins: PairingTrials,
  level: number,
): PairingMoney | UnpricedPairing {
  const { setup, mix } = trials;
  const { costs } = scenario;
  const needs = missingPrices(scenario, setupNamed(scenario, setup));
  if (costs === null || needs !== null) return { priced: false, setup, mix, needs: needs ?? '' };
  const hours = scenario.calendar.flightHoursPerYear;
  const happened = trials.columns.cost;
  const expected = expectedSeasonCost(costs, trials);
  const parts = costColumns(costs, trials, 'as expected');
  const figures = (per: number): MoneyFigures => {
    const scaled = (values: Float64Array): Float64Array => values.map((value) => value / per);
    const sorted = scaled(happened).sort();
    return {
      mean: meanWithInterval(scaled(expected), level),
      p50: quantileInterval(sorted, 0.5, level),
      p90: quantileInterval(sorted, 0.9, level),
      worstTenth: expectedShortfall(sorted, WORST_SHARE, level),
    };
  };
  const part = (name: CostPart): MoneyPart => ({
    perSeason: meanWithInterval(parts[name], level),
    perFlightHour: meanWithInterval(
      parts[name].map((value) => value / hours),
      level,
    ),
    share: ratioOfSums(parts[name], expected),
  });
  return {
    priced: true,
    setup,
    mix,
    trials: trials.rows,
    currency: costs.currency,
    flightHoursPerSeason: hours,
    perSeason: figures(1),
    perFlightHour: figures(hours),
    parts: Object.fromEntries(COST_PARTS.map((name) => [name, part(name)])) as Record<CostPart, MoneyPart>,
    doubts: splitDoubt(happened, twinned(happened, twins.rows), twins.columns.cost),
  };
}
