import { basename, dirname, extname, join, relative, resolve, sep } from 'node:path';
import type { FitCommandOptions } from './fit-options.js';

/** How a fit is used: a scenario of a line that lays it over the one it was fitted for. */
export interface FitUse {
  /** File to make. */
  readonly file: string;
  /** What stands in it. */
  readonly text: string;
  /** Command that runs it. */
  readonly command: string;
}

/**
 * The scenario that uses a fit: the one that was fitted, and the fitted numbers over it.
 *
 * @param options paths of the scenario and of the file of fitted assumptions, and the seed, as given.
 */
export function fitUse({
  scenario,
  out,
  seed,
}: Pick<FitCommandOptions, 'scenario' | 'out' | 'seed'>): FitUse {
  const folder = dirname(out);
  const from = relative(resolve(folder), resolve(scenario)).split(sep).join('/');
  const file = join(folder, `${basename(out, extname(out))}-season.json`);
  return {
    file,
    text: JSON.stringify({ extends: [from, basename(out)] })
      .replace('{', '{ ')
      .replace(':', ': ')
      .replace('","', '", "')
      .replace(/\}$/, ' }'),
    command: `gravelbar run ${shellWord(file)}${seed === undefined ? '' : ` --seed ${shellWord(seed)}`}`,
  };
}

/** A word for a POSIX shell, quoted where it must be. */
function shellWord(text: string): string {
  return /^[\w@%+=:,./-]+$/.test(text) ? text : `'${text.replaceAll("'", `'\\''`)}'`;
}
