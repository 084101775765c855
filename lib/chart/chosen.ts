import type { PairingSummary } from '../estimate/summary.js';
import type { RunResult } from '../run.js';
import { indexOfName } from '../simulate/names.js';

/** Which pairing of a result, by the names of its set-up and its runway mix. */
export interface PairingName {
  readonly setup: string;
  readonly mix: string;
}

/**
 * A pairing of a result.
 *
 * @param result the answer of a run.
 * @param name which.
 * @throws UsageError for a name that the result does not have, with the nearest one.
 */
export function chosenPairing({ pairings }: RunResult, { setup, mix }: PairingName): PairingSummary {
  const named = (key: 'setup' | 'mix'): { name: string }[] =>
    [...new Set(pairings.map((pairing) => pairing[key]))].map((name) => ({ name }));
  indexOfName('set-up', setup, named('setup'));
  indexOfName('runway mix', mix, named('mix'));
  const found = pairings.find((pairing) => pairing.setup === setup && pairing.mix === mix);
  const whole = pairings.map((pairing) => ({ name: `${pairing.setup} on ${pairing.mix}` }));
  return found ?? pairings[indexOfName('pairing', `${setup} on ${mix}`, whole)]!;
}
