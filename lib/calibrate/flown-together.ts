import { tireHistories } from './histories.js';
import type { NextReading } from './posterior-types.js';
import type { Logbook } from './record-types.js';

/** Tells whether the records hold a kind of further records already: that set-up on that strip. */
export type FlownTogether = (reading: Pick<NextReading, 'setup' | 'strip'>) => boolean;

/**
 * Which set-ups flew on which strips in a log. Tires whose set-up the log does not name, and landings whose strip it does
 * not name, rule nothing out.
 *
 * @param logbook checked records.
 */
export function flownTogether(logbook: Logbook): FlownTogether {
  const flown = new Set<string>();
  const setups = new Set<string>();
  let isOpen = false;
  for (const { tire, exposure } of tireHistories(logbook)) {
    if (tire.setup === null) isOpen = true;
    else setups.add(tire.setup);
    for (const { strip } of exposure.parts) {
      if (strip === null) isOpen = true;
      else if (tire.setup !== null) flown.add(JSON.stringify([tire.setup, strip]));
    }
  }
  return ({ setup, strip }) => {
    if (isOpen) return true;
    return strip === null ? setups.has(setup) : flown.has(JSON.stringify([setup, strip]));
  };
}
