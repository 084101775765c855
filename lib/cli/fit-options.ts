import { resolve } from 'node:path';
import { heldOutNamed, heldOutShare } from '../calibrate/held-out.js';
import type { Logbook } from '../calibrate/record-types.js';
import { UsageError } from '../problems.js';
import type { CompiledScenario } from '../scenario/compile.js';
import { MAX_BYTES } from '../scenario/json-text.js';

/** Options of `gravelbar fit`. */
export interface FitCommandOptions {
  readonly scenario: string;
  readonly out: string;
  readonly page?: string;
  readonly json?: boolean;
  readonly holdOut?: readonly string[];
  readonly mix?: string;
  readonly trials?: number;
  readonly season: boolean;
  readonly seed?: string;
  readonly draws?: number;
  readonly mostDraws?: number;
  readonly workers?: number;
}

/** Bytes of a number in the file, at most, and of all but the draws. */
const NUMBER_BYTES = 13;
const HEAD_BYTES = 400_000;

/**
 * Tires to hold out, from names or from one share such as "20 %".
 *
 * @param logbook checked records.
 * @param given on the command line.
 * @param seed of the choice.
 * @throws UsageError for unknown tires and bad shares.
 */
export function heldOutTires(
  logbook: Logbook,
  given: readonly string[] | undefined,
  seed: string,
): readonly string[] | undefined {
  if (given === undefined) return undefined;
  const isTire = (name: string): boolean => logbook.tires.some(({ id }) => id === name);
  const share = given.length === 1 && !isTire(given[0]!) ? /^(\d+(?:\.\d+)?)\s*%$/.exec(given[0]!) : null;
  return share === null ? heldOutNamed(logbook, given) : heldOutShare(logbook, Number(share[1]) / 100, seed);
}

/**
 * Refuses outputs that would overwrite what is read or each other.
 *
 * @param records path of the log.
 * @param options with the paths.
 */
export function requireOwnFiles(records: string, { scenario, out, page }: FitCommandOptions): void {
  const taken = new Map([
    [resolve(scenario), 'the scenario'],
    [resolve(records), 'the records'],
  ]);
  const outputs = page === undefined ? [out] : [out, page];
  for (const file of outputs) {
    const owner = taken.get(resolve(file));
    if (owner !== undefined) throw new UsageError(`cannot write ${file}: it is the file of ${owner}`);
    taken.set(resolve(file), 'the fitted assumptions');
  }
}

/**
 * Refuses more draws than a file may hold, before they are made.
 *
 * @param scenario compiled scenario: every assumption in doubt may become a column.
 * @param draws asked for.
 */
export function requireReadable({ assumptions }: CompiledScenario, draws: number | undefined): void {
  const columns = assumptions.filter(({ kind }) => kind !== 'fixed').length;
  const most = Math.floor((MAX_BYTES - HEAD_BYTES) / (NUMBER_BYTES * Math.max(1, columns)));
  if (draws === undefined || draws <= most) return;
  throw new UsageError(
    `draws is ${draws}; at most ${most} of ${columns} assumptions fit into a file that can be read`,
  );
}
