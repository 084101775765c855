import { join } from 'node:path';
import { CancelledError } from '../problems.js';
import { pairingsCsv } from '../present/csv.js';
import { comparisonTable } from '../present/table.js';
import { runScenario, StoppedError, type Run } from '../run.js';
import { compileScenario } from '../scenario/compile.js';
import { readScenario } from '../scenario/read.js';
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

/** Exit code of a run that was stopped: 128 + SIGINT. */
export const STOPPED_EXIT_CODE = 130;

/**
 * `gravelbar run FILE`: runs a scenario and prints the comparison.
 *
 * @param file scenario file.
 * @param options from the command line.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws ScenarioError, UsageError, NonFiniteError.
 */
export async function runCommand(file: string, options: RunCommandOptions): Promise<number> {
  const { scenario } = readScenario(file);
  if (options.out !== undefined) prepareFolder(options.out);
  if (options.csv !== undefined) prepareFile(options.csv);
  const run = options.seed === undefined ? scenario.run : { ...scenario.run, seed: options.seed };
  const compiled = compileScenario({ ...scenario, run });
  const stop = new AbortController();
  const onInterrupt = (): void => {
    stop.abort();
  };
  // A second Ctrl-C meets no handler and ends the process at once.
  process.once('SIGINT', onInterrupt);
  process.once('SIGTERM', onInterrupt);
  const line = progressLine(process.stderr);
  try {
    const finished = await runScenario(compiled, {
      trials: options.trials,
      workers: options.workers,
      precision: options.precision,
      signal: stop.signal,
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
    process.off('SIGINT', onInterrupt);
    process.off('SIGTERM', onInterrupt);
  }
}

function show({ result }: Run, options: RunCommandOptions): void {
  const table = comparisonTable(result);
  const written: string[] = [];
  const write = (path: string, text: string): void => {
    writeWhole(path, text);
    written.push(path);
  };
  if (options.csv !== undefined) write(options.csv, pairingsCsv(result));
  if (options.out !== undefined) {
    write(join(options.out, 'result.json'), `${JSON.stringify(result, null, 2)}\n`);
    write(join(options.out, 'pairings.csv'), pairingsCsv(result));
    write(join(options.out, 'comparison.txt'), `${table}\n`);
  }
  if (options.json === true) process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
  else process.stdout.write(`${table}\n`);
  if (written.length > 0) process.stderr.write(`wrote ${written.join(', ')}\n`);
}
