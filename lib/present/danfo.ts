import { readFileSync } from 'node:fs';
import { UsageError } from '../problems.js';
import type { FrameValue } from './frame-types.js';

/** The package that makes data frames. */
const PACKAGE = 'danfojs-node';

interface Manifest {
  readonly peerDependencies: Readonly<Record<string, string>>;
  readonly overrides: Readonly<Record<string, unknown>>;
}

/** What to do to get the package: its dependencies cannot be installed as they are. */
function remedy(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  const { peerDependencies, overrides } = JSON.parse(text) as Manifest;
  const json = JSON.stringify({ [PACKAGE]: overrides[PACKAGE] });
  const version = peerDependencies[PACKAGE]!.replace('^', '');
  return `put "overrides": ${json} into your package.json, then run npm install ${PACKAGE}@${version}`;
}

/** The part of the package that is used; our declarations must not need those of an optional package. */
interface Danfo {
  readonly DataFrame: new (
    rows: FrameValue[][],
    options: { readonly columns: string[]; readonly dtypes: string[] },
  ) => object;
}

/**
 * Loads danfojs-node, which is slow and optional: only when the first data frame is made.
 *
 * @throws UsageError with the way to install it, if it is missing or does not load.
 */
export async function loadDanfo(): Promise<Danfo> {
  try {
    return await import('danfojs-node');
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    const isMissing = code === 'ERR_MODULE_NOT_FOUND' && message.includes(`'${PACKAGE}'`);
    const reason = isMissing ? 'is not installed' : `does not load (${message.split('\n')[0]!.slice(0, 80)})`;
    throw new UsageError(`a data frame needs ${PACKAGE}, which ${reason}: ${remedy()}`);
  }
}
