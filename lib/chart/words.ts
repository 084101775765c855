import type { EndCause } from '../estimate/curves.js';
import type { WearCause } from '../simulate/columns.js';
import { version } from '../version.js';
import { COLOURS } from './spec.js';

/** What stands under the title of every chart that someone could act on. */
export const CHART_CAUTION =
  'For comparison only: approved data, the maintenance manual and a licensed mechanic decide; local rules apply.';

/**
 * Where the figures of a chart come from.
 *
 * @param run number of trials and seed.
 * @returns a short sentence.
 */
export function provenance({ trials, seed }: { readonly trials: number; readonly seed: string }): string {
  return `${trials} trials, seed ${seed}, gravelbar ${version()}.`;
}

/** Colour of each removal cause, the same in every chart. */
export const CAUSE_COLOURS: Readonly<Record<EndCause, string>> = {
  worn: COLOURS.blue,
  cut: COLOURS.orange,
  puncture: COLOURS.vermilion,
  pressure: COLOURS.purple,
  age: '#999999',
};

/** Colour of each cause of wear, the same in every chart. */
export const WEAR_COLOURS: Readonly<Record<WearCause, string>> = {
  'spin-up': COLOURS.sky,
  braking: COLOURS.vermilion,
  pivots: COLOURS.purple,
  squirm: COLOURS.green,
  scrub: COLOURS.orange,
};
