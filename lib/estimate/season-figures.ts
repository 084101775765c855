/**
 * Days and money of a season with the chances of flats in the place of the flats that happened.
 *
 * Flats of a kind counted along a trial, less their chances added up, have mean zero (martingale.ts), and what one
 * flat costs follows from its world and the prices. So days and money of flats may be replaced by what they were
 * expected to be along the path: the mean stays, and the luck of rare rescues, which is most of the spread, goes.
 */
import type { CompiledCosts, CompiledScenario, CompiledSetup } from '../scenario/compile.js';
import type { PairingTrials, TrialColumns } from '../simulate/columns.js';

/** What the money of a season is spent on. */
export const COST_PARTS = [
  'tires',
  'labour',
  'tubes and patches',
  'rescue',
  'lost days',
  'longer flights',
] as const;
/** A part of the money of a season. */
export type CostPart = (typeof COST_PARTS)[number];

/** Money of a season by part, one value per trial. */
export type CostColumns = Readonly<Record<CostPart, Float64Array>>;

/** Flats as they happened, or as they were to be expected along the path of the trial. */
export type FlatsTaken = 'as they happened' | 'as expected';

/**
 * What is missing to give a set-up a price.
 *
 * @returns in words; null if nothing is missing.
 */
export function missingPrices(
  { costs }: Pick<CompiledScenario, 'costs'>,
  { main, third, cruiseLoss }: CompiledSetup,
): string | null {
  if (costs === null) return 'not priced: needs costs and tire prices';
  const unpriced = [...new Set([main, third].filter(({ price }) => price === null).map(({ name }) => name))];
  const needs: string[] = [];
  if (unpriced.length > 0) needs.push(`the price of ${unpriced.map((name) => `"${name}"`).join(' and ')}`);
  if (cruiseLoss > 0 && costs.flightHour === undefined) {
    needs.push('"costs.flightHour" for the cruise speed that the gear takes');
  }
  return needs.length === 0 ? null : `not priced: needs ${needs.join(' and ')}`;
}

/**
 * Days lost in the season, with those of flats as expected along the path.
 *
 * @param trials results of a pairing.
 * @returns days, one value per trial; the same mean as the column downDays, with less spread.
 */
export function expectedDaysLost({ columns }: PairingTrials): Float64Array {
  return Float64Array.from(
    columns.downDays,
    (days, row) => days - columns.flatDays[row]! + columns.flatDaysHazard[row]!,
  );
}

/**
 * Money of the season by part. Tires are what is left of the whole: those that came off, and the tread used of those
 * that are still on.
 *
 * @param costs prices.
 * @param trials results of a pairing, run with these prices.
 * @param flats whether flats count as they happened or as expected.
 */
export function costColumns(
  costs: CompiledCosts,
  { columns }: PairingTrials,
  flats: FlatsTaken,
): CostColumns {
  const happened = flatMoney(costs, columns, 'as they happened');
  const taken = flats === 'as they happened' ? happened : flatMoney(costs, columns, flats);
  const labour = Float64Array.from(
    columns.mainsFitted,
    (fitted, row) => costs.tireChange * (fitted + columns.thirdFitted[row]!),
  );
  const plannedDays = Float64Array.from(
    columns.downDays,
    (days, row) => costs.downDay * (days - columns.flatDays[row]!),
  );
  return {
    tires: Float64Array.from(
      columns.cost,
      (cost, row) =>
        cost -
        labour[row]! -
        plannedDays[row]! -
        happened.supplies[row]! -
        happened.rescue[row]! -
        happened.days[row]! -
        columns.cruiseCost[row]!,
    ),
    labour,
    'tubes and patches': taken.supplies,
    rescue: taken.rescue,
    'lost days': Float64Array.from(plannedDays, (planned, row) => planned + taken.days[row]!),
    'longer flights': columns.cruiseCost,
  };
}

/**
 * Money of the season, with that of flats as expected along the path.
 *
 * @param costs prices.
 * @param trials results of a pairing, run with these prices.
 * @returns one value per trial; the same mean as the column cost, with less spread.
 */
export function expectedSeasonCost(costs: CompiledCosts, { columns }: PairingTrials): Float64Array {
  const happened = flatMoney(costs, columns, 'as they happened');
  const expected = flatMoney(costs, columns, 'as expected');
  const all = ({ supplies, rescue, days }: FlatMoney, row: number): number =>
    supplies[row]! + rescue[row]! + days[row]!;
  return Float64Array.from(columns.cost, (cost, row) => cost - all(happened, row) + all(expected, row));
}

interface FlatMoney {
  readonly supplies: Float64Array;
  readonly rescue: Float64Array;
  readonly days: Float64Array;
}

function flatMoney(costs: CompiledCosts, columns: TrialColumns, taken: FlatsTaken): FlatMoney {
  const [tubes, patched, rescued, days] =
    taken === 'as expected'
      ? [columns.tubesHazard, columns.flatsPatchedHazard, columns.flatsRescuedHazard, columns.flatDaysHazard]
      : [columns.tubes, columns.flatsPatched, columns.flatsRescued, columns.flatDays];
  const priced = (money: (row: number) => number): Float64Array =>
    Float64Array.from({ length: tubes.length }, (_, row) => money(row));
  return {
    supplies: priced((row) => costs.tube * tubes[row]! + costs.patch * patched[row]!),
    rescue: priced((row) => costs.rescue * rescued[row]!),
    days: priced((row) => costs.downDay * days[row]!),
  };
}
