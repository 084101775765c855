import { join } from 'node:path';
import { CancelledError } from '../problems.js';
import { pairingsCsv } from '../present/csv.js';
import { comparisonTable } from '../present/table.js';
import { printable } from '../present/words.js';
import { runScenario, StoppedError, type Run } from '../run.js';
import { compileScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { STOPPED_EXIT_CODE } from './exit-codes.js';
import { prepareFile, prepareFolder, writeWhole } from './output.js';
import { progressLine } from './progress.js';

/** Options of `gravelbar run`. */
export interface RunCommandOptions {
  readonly trials?: number;
  readonly seed?: string;
  readonly workers?: number;
  readonly precision?: number;
  readonly json?: boolean;
  readonly csv?: string;
  readonly out?: string;
}

/** Files that `--out` writes. */
const RESULT_FILE = 'result.json';
const PAIRINGS_FILE = 'pairings.csv';
const TABLE_FILE = 'comparison.txt';

/**
 * `gravelbar run FILE`: runs a scenario and prints the comparison.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the run.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export async function runCommand(
  scenario: Scenario,
  options: RunCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  const run = options.seed === undefined ? scenario.run : { ...scenario.run, seed: options.seed };
  const compiled = compileScenario({ ...scenario, run });
  const removeEmptyFolders = prepareOutputs(options);
  const line = progressLine(process.stderr);
  try {
    const finished = await runScenario(compiled, {
      trials: options.trials,
      workers: options.workers,
      precision: options.precision,
      signal,
      onProgress: (progress) => {
        line.update(progress);
      },
    });
    line.clear();
    show(finished, options);
    return 0;
  } catch (error) {
    line.clear();
    if (error instanceof StoppedError && error.partial !== null) {
      show(error.partial, options);
      process.stderr.write(`gravelbar: ${error.message}; the figures are those of these trials\n`);
      return STOPPED_EXIT_CODE;
    }
    if (error instanceof CancelledError) {
      process.stderr.write(`gravelbar: ${error.message}; there is nothing to show\n`);
      return STOPPED_EXIT_CODE;
    }
    throw error;
  } finally {
    removeEmptyFolders();
  }
}

/** Finds out before the run whether its results can be written. */
function prepareOutputs({ csv, out }: RunCommandOptions): () => void {
  const undo = out === undefined ? () => undefined : prepareFolder(out);
  try {
    if (csv !== undefined) prepareFile(csv);
    if (out !== undefined)
      for (const name of [RESULT_FILE, PAIRINGS_FILE, TABLE_FILE]) prepareFile(join(out, name));
  } catch (error) {
    undo();
    throw error;
  }
  return undo;
}

function show({ result }: Run, { csv, out, json }: RunCommandOptions): void {
  const table = `${comparisonTable(result)}\n`;
  const written: string[] = [];
  const write = (path: string, text: string): void => {
    writeWhole(path, text);
    written.push(path);
  };
  const asJson = `${JSON.stringify(result, null, 2)}\n`;
  if (csv !== undefined) write(csv, pairingsCsv(result));
  if (out !== undefined) {
    write(join(out, RESULT_FILE), asJson);
    write(join(out, PAIRINGS_FILE), pairingsCsv(result));
    write(join(out, TABLE_FILE), table);
  }
  process.stdout.write(json === true ? asJson : table);
  if (written.length > 0) process.stderr.write(`wrote ${written.map(printable).join(', ')}\n`);
}
