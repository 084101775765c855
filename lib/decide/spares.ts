/** Spares to keep in stock, for a stated chance that nobody waits for one. */
import { sampleVariance } from '../estimate/moments.js';
import { poissonSpares } from '../estimate/poisson-spares.js';
import { wilsonInterval } from '../estimate/proportion.js';
import type { IntervalEstimate } from '../estimate/interval.js';
import type { Estimate } from '../estimate/shares.js';
import { meanEstimate } from '../estimate/uncertainty.js';
import { UsageError, properShare } from '../problems.js';
import type { FleetDemand, ItemDemand, SpareKind } from './fleet-types.js';
import { countAt, countsUpTo, needsOf, type Needs } from './shortages.js';

/** How good the service must be. */
export interface SparesOptions {
  /** Wanted chance that in the whole season no airplane of the base waits for the item, in (0, 1); default 0.95. */
  readonly serviceLevel?: number | undefined;
  /**
   * Days from taking a unit, which orders the next one at once, to the arrival of that; above 0. Default: nothing
   * arrives before the season ends, so that the stock must serve all of it.
   */
  readonly leadTimeDays?: number | undefined;
}

/** What one number of units in stock does. */
export interface StockStep {
  readonly stock: number;
  /** Chance that in the season nobody waits for the item. */
  readonly service: IntervalEstimate;
  /** Share of the units asked for that are there when asked for; null if none was asked for in any world. */
  readonly filledAtOnce: number | null;
  /** Mean number of units asked for in the season that are not there. */
  readonly unitsAwaited: number;
}

/** A stock by other reckoning, and the service it gives in truth. */
export interface OtherReckoning {
  readonly stock: number;
  /** Chance that nobody waits, with this stock, when airplanes share their world. */
  readonly service: IntervalEstimate;
  /** Variance of the season's demand over its mean: 1 for a Poisson demand. Null if nothing was asked for. */
  readonly varianceToMean: number | null;
}

/** Stock of one item at one base. */
export interface SpareStock extends StockStep {
  readonly base: string;
  readonly kind: SpareKind;
  /** Name of the tire that it is, or that it is for; null for a patch kit. */
  readonly tire: string | null;
  readonly fittedTo: readonly ('main' | 'third')[];
  /** Units asked for in the season by all airplanes of the base. */
  readonly demandPerSeason: Estimate;
  /** Variance of the season's demand over its mean; null if nothing was asked for. */
  readonly varianceToMean: number | null;
  /** Stocks that the Monte Carlo error of the service leaves possible; upper is null if more worlds are needed to say. */
  readonly stockRange: { readonly lower: number; readonly upper: number | null };
  /** What other numbers of units do, from 0 up. */
  readonly steps: readonly StockStep[];
  /** If what is not known were another thing for each airplane: it is not, and stock that counts on it falls short. */
  readonly ifWorldsDiffered: OtherReckoning;
  /** By the Poisson spares formula with the same mean demand, spread evenly over the days of the season. */
  readonly ifPoisson: OtherReckoning;
}

/** Stock of a fleet. Plain data that can be stored as JSON. */
export interface SparesPlan {
  readonly serviceLevel: number;
  /** Null: the stock serves the whole season. */
  readonly leadTimeDays: number | null;
  readonly worlds: number;
  readonly airplanes: number;
  readonly airplanesAt: Readonly<Record<string, number>>;
  readonly items: readonly SpareStock[];
  /** What the plan rests on, in words. */
  readonly notes: readonly string[];
}

const DEFAULT_SERVICE_LEVEL = 0.95;
const STEPS_BEYOND = 2;

const NOTES = [
  'Every airplane begins the season on new tires: a fleet that begins on worn ones asks for more.',
  'Airplanes share one world, since what is not known of stones and rubber is the same for all of them.',
  'Tubes are counted one for each flat of a tire with a tube; a tire changed for wear keeps its tube.',
  'Patch kits are counted where a flat was mended away from help.',
] as const;

/**
 * Chooses the stock of every item at every base.
 *
 * The service is counted, not assumed: in what share of worlds the stock is enough for the whole season. Demand comes
 * in pairs where tires are changed in pairs, bunches where wear brings the tires of a fleet to their end together, and
 * varies with the world; the Poisson spares formula knows none of that.
 *
 * @param demand from simulateFleetDemand.
 * @param options service level and lead time.
 * @returns one entry per base and item.
 * @throws UsageError for an option out of range.
 */
export function stockSpares(demand: FleetDemand, options: SparesOptions = {}): SparesPlan {
  const { serviceLevel = DEFAULT_SERVICE_LEVEL, leadTimeDays = null } = options;
  properShare('serviceLevel', serviceLevel);
  if (leadTimeDays !== null && !(leadTimeDays > 0 && leadTimeDays < Infinity)) {
    throw new UsageError(`leadTimeDays is ${leadTimeDays}; it must be a finite number above 0`);
  }
  const { worlds, airplanes, airplanesAt } = demand;
  return {
    serviceLevel,
    leadTimeDays,
    worlds,
    airplanes,
    airplanesAt,
    items: demand.items.map((item) => stockOf(demand, item, serviceLevel, leadTimeDays)),
    notes: NOTES,
  };
}

function stockOf(
  { worlds, seasonDays }: FleetDemand,
  item: ItemDemand,
  serviceLevel: number,
  leadTimeDays: number | null,
): SpareStock {
  const together = needsOf(item, worlds, leadTimeDays, true);
  const apart = needsOf(item, worlds, leadTimeDays, false);
  const ladder = new Ladder(together);
  const stock = ladder.smallest(({ estimate }) => estimate >= serviceLevel)!;
  const demandPerSeason = meanEstimate(together.asked);
  const lateShare = leadTimeDays === null ? 1 : Math.min(1, leadTimeDays / seasonDays);
  const poisson = poissonSpares(demandPerSeason.estimate * lateShare, serviceLevel).stock;
  const ifApart = new Ladder(apart).smallest(({ estimate }) => estimate >= serviceLevel)!;
  const last = Math.max(stock, poisson, ifApart) + STEPS_BEYOND;
  return {
    ...ladder.step(stock),
    base: item.base,
    kind: item.kind,
    tire: item.tire,
    fittedTo: item.fittedTo,
    demandPerSeason,
    varianceToMean: varianceToMean(together),
    stockRange: {
      lower: ladder.smallest(({ upper }) => upper >= serviceLevel)!,
      upper: ladder.smallest(({ lower }) => lower >= serviceLevel),
    },
    steps: Array.from({ length: last + 1 }, (_, units) => ladder.step(units)),
    ifWorldsDiffered: {
      stock: ifApart,
      service: ladder.step(ifApart).service,
      varianceToMean: varianceToMean(apart),
    },
    ifPoisson: { stock: poisson, service: ladder.step(poisson).service, varianceToMean: 1 },
  };
}

function varianceToMean({ asked }: Needs): number | null {
  const { estimate } = meanEstimate(asked);
  return estimate > 0 ? sampleVariance(asked) / estimate : null;
}

/** What each stock does. */
class Ladder {
  private readonly worlds: number;
  private readonly units: number;
  private readonly served: Int32Array;
  private readonly filled: Int32Array;

  constructor({ worlds, stockNeeded, stockForUnit }: Needs) {
    this.worlds = worlds;
    this.units = stockForUnit.length;
    this.served = countsUpTo(stockNeeded);
    this.filled = countsUpTo(stockForUnit);
  }

  step(stock: number): StockStep {
    const filled = countAt(this.filled, stock);
    return {
      stock,
      service: this.service(stock),
      filledAtOnce: this.units === 0 ? null : filled / this.units,
      unitsAwaited: (this.units - filled) / this.worlds,
    };
  }

  /** Smallest stock with a service that will do; null if none will. */
  smallest(willDo: (service: IntervalEstimate) => boolean): number | null {
    for (let stock = 0; stock < this.served.length; stock++) if (willDo(this.service(stock))) return stock;
    return null;
  }

  private service(stock: number): IntervalEstimate {
    return wilsonInterval(countAt(this.served, stock), this.worlds);
  }
}
