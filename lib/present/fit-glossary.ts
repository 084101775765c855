/** What the numbers of a fit do, in words of the schema. */
import type { FittedAssumption } from '../calibrate/posterior-types.js';
import { standingOf } from '../calibrate/standing.js';
import { assumptionField } from '../scenario/assumption-fields.js';

/** One number, whatever surface or tire it belongs to. */
export interface GlossaryEntry {
  /** "even wear deflection". */
  readonly name: string;
  /** What it is, a sentence of the schema. */
  readonly meaning: string;
}

/**
 * What the fitted numbers are that were narrowed or moved: each kind once, in the order of the fit.
 *
 * @param assumptions of a fit.
 */
export function fitGlossary(assumptions: readonly FittedAssumption[]): GlossaryEntry[] {
  const entries = new Map<string, GlossaryEntry>();
  for (const each of assumptions) {
    if (standingOf(each) === 'not identified') continue;
    const found = assumptionField(each.path);
    if (found === null) continue;
    const { steps, field } = found;
    const key = steps.at(-1)!;
    const { description: meaning } = field.options;
    entries.set(`${steps[0]}.${key}`, { name: `${spaced(key)}${sectionText(steps)}`, meaning });
  }
  return [...entries.values()];
}

function spaced(key: string): string {
  return key.replace(/[A-Z]/g, (capital) => ` ${capital.toLowerCase()}`);
}

/** The same word may stand for surfaces and for rubber. */
function sectionText(steps: readonly string[]): string {
  const of = { surfaces: 'surface', sidewalls: 'sidewall', treads: 'tread', compounds: 'rubber' };
  const word = Object.hasOwn(of, steps[0]!) ? of[steps[0] as keyof typeof of] : null;
  return word === null ? '' : ` (${word})`;
}
