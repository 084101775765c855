/** Stock for a demand that comes at a steady known rate. */
import { poissonCdf } from '../numeric/special.js';

/** What a stock does for a Poisson demand; three measures that must not be mixed. */
export interface PoissonStock {
  /** Units on the shelf when nothing is on order. */
  readonly stock: number;
  /** Chance that demand is at most the stock: nobody waits. */
  readonly readyRate: number;
  /** Share of demands met at once: chance that demand before this one is below the stock. */
  readonly fillRate: number;
  /** Mean number of units that are owed. */
  readonly expectedBackorders: number;
}

/**
 * What a stock does when demand is Poisson.
 *
 * @param meanDemand mean demand over the season or the lead time, >= 0.
 * @param stock a whole number >= 0.
 * Throws RangeError naming the argument. Source: Sherbrooke, Optimal Inventory Modeling of Systems (from memory).
 */
export function poissonStock(meanDemand: number, stock: number): PoissonStock {
  if (!(Number.isInteger(stock) && stock >= 0)) {
    throw new RangeError(`stock must be a whole number of 0 or more; found ${stock}`);
  }
  const readyRate = poissonCdf(stock, meanDemand);
  const fillRate = poissonCdf(stock - 1, meanDemand);
  const expectedBackorders = meanDemand * (1 - fillRate) - stock * (1 - readyRate);
  return { stock, readyRate, fillRate, expectedBackorders: Math.max(expectedBackorders, 0) };
}

/**
 * Smallest stock with which a Poisson demand is met with at least a stated chance.
 *
 * Use it where the rate is known and events do not come together. A rate that is not known, and is the same for all
 * airplanes of a fleet, needs more: see `stockSpares`.
 *
 * @param meanDemand mean demand over the season or the lead time, >= 0.
 * @param serviceLevel wanted chance that demand is at most the stock, in (0, 1).
 * Throws RangeError naming the argument. O(stock).
 * Source: the Poisson spares formula of reliability texts.
 * @example
 * import { poissonSpares } from 'gravelbar';
 * poissonSpares(4, 0.95).stock; // => 8
 */
export function poissonSpares(meanDemand: number, serviceLevel: number): PoissonStock {
  if (!(serviceLevel > 0 && serviceLevel < 1)) {
    throw new RangeError(`serviceLevel must lie between 0 and 1; found ${serviceLevel}`);
  }
  let stock = 0;
  while (poissonCdf(stock, meanDemand) < serviceLevel) stock += 1;
  return poissonStock(meanDemand, stock);
}
