import { join } from 'node:path';
import { CancelledError } from '../problems.js';
import { pairingsCsv } from '../present/csv.js';
import { comparisonTable } from '../present/table.js';
import { printable, wrap } from '../present/words.js';
import { answersFor, overallText } from '../report/answers.js';
import { makeReport } from '../report/report.js';
import { runScenario, StoppedError, type Run, type RunResult } from '../run.js';
import { compileScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { STOPPED_EXIT_CODE } from './exit-codes.js';
import { prepareFile, prepareFolder, writeWhole } from './output.js';
import { progressLine } from './progress.js';

/** Options of `gravelbar report`. */
export interface ReportCommandOptions {
  readonly out: string;
  readonly trials?: number;
  readonly seed?: string;
  readonly workers?: number;
  readonly precision?: number;
}

const FILES = {
  report: 'report.html',
  result: 'result.json',
  pairings: 'pairings.csv',
  table: 'comparison.txt',
} as const;

/** Width that the answer keeps to. */
const WIDTH = 100;

/**
 * `gravelbar report FILE --out FOLDER`: runs a scenario, prints the comparison and the answer in words, and writes the
 * report and the files of `gravelbar run --out`.
 *
 * A stopped run is reported from its finished trials; charts that need further trials are left out and named.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the run.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export async function reportCommand(
  scenario: Scenario,
  options: ReportCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  const { seed = scenario.run.seed } = options;
  const seeded = { ...scenario, run: { ...scenario.run, seed } };
  const removeEmptyFolders = prepareFolder(options.out);
  try {
    for (const name of Object.values(FILES)) prepareFile(join(options.out, name));
    const run = await runOrPart(seeded, options, signal);
    const line = progressLine(process.stderr);
    const report = await makeReport(seeded, run, {
      workers: options.workers,
      signal,
      onProgress: (progress) => {
        line.update(progress);
      },
    });
    line.clear();
    write(run.result, report, options.out);
    if (!signal.aborted) return 0;
    process.stderr.write(
      `gravelbar: stopped; the report rests on ${run.result.trials} finished trials and says which charts it lacks\n`,
    );
    return STOPPED_EXIT_CODE;
  } catch (error) {
    if (!(error instanceof CancelledError)) throw error;
    process.stderr.write(`gravelbar: ${error.message}; there is nothing to report\n`);
    return STOPPED_EXIT_CODE;
  } finally {
    removeEmptyFolders();
  }
}

/** Runs the scenario to its end, or until it is stopped with enough trials for an answer. */
async function runOrPart(
  scenario: Scenario,
  { trials, workers, precision }: ReportCommandOptions,
  signal: AbortSignal,
): Promise<Run> {
  const line = progressLine(process.stderr);
  try {
    return await runScenario(compileScenario(scenario), {
      trials,
      workers,
      precision,
      signal,
      onProgress: (progress) => {
        line.update(progress);
      },
    });
  } catch (error) {
    if (error instanceof StoppedError && error.partial !== null) return error.partial;
    throw error;
  } finally {
    line.clear();
  }
}

function write(result: RunResult, report: string, folder: string): void {
  const table = `${comparisonTable(result)}\n`;
  const texts: readonly (readonly [string, string])[] = [
    [FILES.result, `${JSON.stringify(result, null, 2)}\n`],
    [FILES.pairings, pairingsCsv(result)],
    [FILES.table, table],
    [FILES.report, report],
  ];
  for (const [name, text] of texts) writeWhole(join(folder, name), text);
  process.stdout.write(`${table}\n${answerText(result)}\n`);
  const written = texts.map(([name]) => printable(join(folder, name)));
  process.stderr.write(`wrote ${written.join(', ')}\n`);
}

/** The answer in a few lines: over all mixes, and then how long and how risky on each. */
function answerText(result: RunResult): string {
  const answers = answersFor(result);
  const lines = [
    `In words: ${overallText(answers)}`,
    ...answers.map(({ mix, setup, life, risk }) => `On ${mix}, ${setup}: ${life} ${risk}`),
  ];
  return lines.map((line) => wrap(printable(line), WIDTH, '  ')).join('\n');
}
