import type { AssumptionFit } from '../calibrate/posterior-types.js';
import type { Standing } from '../calibrate/standing.js';
import { version } from '../version.js';
import { COLOURS } from './spec.js';
import { counted } from './measures.js';
import { shortName } from './labels.js';

/** Look of each standing: a shape of its own, filled the more that was learned, so that colour is never needed. */
export const STANDING_LOOKS: Readonly<
  Record<Standing, { readonly shape: string; readonly colour: string; readonly filled: boolean }>
> = {
  learned: { shape: 'circle', colour: COLOURS.blue, filled: true },
  'barely learned': { shape: 'diamond', colour: COLOURS.blue, filled: false },
  'moved, not narrowed': { shape: 'square', colour: COLOURS.vermilion, filled: true },
  'not identified': { shape: 'cross', colour: COLOURS.vermilion, filled: false },
};

/**
 * Where the figures of a fit come from.
 *
 * @param fit records, draws and seed are told.
 * @returns short sentences.
 */
export function fitProvenance({ logbook, used, convergence, seed }: AssumptionFit): string {
  const { readings, ends, cuts, pressureChecks } = used;
  return (
    `Fitted to "${shortName(logbook.name, 40)}", ${logbook.firstDate} to ${logbook.lastDate} ` +
    `(${counted(readings + ends + cuts + pressureChecks, 'record')}). ` +
    `${counted(convergence.draws, 'draw')}, seed ${seed}, gravelbar ${version()}.`
  );
}

/** Says where the chains did not agree; nothing where all is well. */
export function fitWarning({ convergence }: AssumptionFit): string[] {
  return convergence.converged ? [] : ['The fit has not converged: for a look, not for use.'];
}
