/** How many units must be in stock for nobody to wait. */
import type { ItemDemand } from './fleet-types.js';

/** What a season of demand needs, world by world. */
export interface Needs {
  readonly worlds: number;
  /** Units asked for in each world. */
  readonly asked: Int32Array;
  /** Least stock in each world with which every unit is there when it is asked for. */
  readonly stockNeeded: Int32Array;
  /** For each unit asked for, the least stock with which it is there: itself and those still on order. */
  readonly stockForUnit: Int32Array;
}

/**
 * What stock the demand for an item needs, if every unit taken is ordered again at once and comes after the lead time.
 *
 * @param demand for the item.
 * @param worlds number of worlds.
 * @param leadTimeDays days from order to arrival; null: nothing comes before the season ends.
 * @param share true for airplanes in one world, as they were simulated; false to give each airplane another world, as if
 *   what is not known were another thing for each.
 */
export function needsOf(
  demand: ItemDemand,
  worlds: number,
  leadTimeDays: number | null,
  share: boolean,
): Needs {
  const units = demand.day.length;
  const worldOf = (unit: number): number =>
    share ? demand.world[unit]! : (demand.world[unit]! - demand.airplane[unit]! + worlds) % worlds;
  const asked = new Int32Array(worlds);
  for (let unit = 0; unit < units; unit++) asked[worldOf(unit)]! += 1;
  const start = new Int32Array(worlds + 1);
  for (let world = 0; world < worlds; world++) start[world + 1] = start[world]! + asked[world]!;
  const days = new Float64Array(units);
  const next = start.slice();
  for (let unit = 0; unit < units; unit++) days[next[worldOf(unit)]!++] = demand.day[unit]!;

  const stockNeeded = new Int32Array(worlds);
  const stockForUnit = new Int32Array(units);
  for (let world = 0; world < worlds; world++) {
    const inWorld = days.subarray(start[world], start[world + 1]).sort();
    let oldestOnOrder = 0;
    for (let unit = 0; unit < inWorld.length; unit++) {
      if (leadTimeDays !== null) {
        while (inWorld[unit]! - inWorld[oldestOnOrder]! >= leadTimeDays) oldestOnOrder++;
      }
      const out = unit - oldestOnOrder + 1;
      stockForUnit[start[world]! + unit] = out;
      if (out > stockNeeded[world]!) stockNeeded[world] = out;
    }
  }
  return { worlds, asked, stockNeeded, stockForUnit };
}

/** Number of values at or below each stock from 0 up to the greatest value. */
export function countsUpTo(values: Int32Array): Int32Array {
  const greatest = values.reduce((most, value) => Math.max(most, value), 0);
  const counts = new Int32Array(greatest + 1);
  for (const value of values) counts[value]! += 1;
  for (let stock = 1; stock <= greatest; stock++) counts[stock]! += counts[stock - 1]!;
  return counts;
}

/** Number of values at or below a stock, from their running counts. */
export function countAt(counts: Int32Array, stock: number): number {
  return counts[Math.min(stock, counts.length - 1)]!;
}
