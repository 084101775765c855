import { assumptionsFile } from '../calibrate/assumptions-file.js';
import { fileKind } from '../calibrate/logbook-kind.js';
import { fitAssumptions, NotConvergedError } from '../calibrate/posterior.js';
import { flownTogether } from '../calibrate/flown-together.js';
import type { AssumptionFit } from '../calibrate/posterior-types.js';
import { readLogbook } from '../calibrate/read-logbook.js';
import type { Logbook } from '../calibrate/record-types.js';
import { RecordsError } from '../calibrate/records-error.js';
import { seasonShift } from '../decide/season-shift.js';
import type { SeasonShift } from '../decide/season-shift-types.js';
import { fitFindings } from '../present/fit-findings.js';
import { fitText } from '../present/fit-text.js';
import { printable, wrap } from '../present/words.js';
import { CancelledError, listProblems, UsageError, wholeNumber } from '../problems.js';
import { compileScenario } from '../scenario/compile.js';
import { readScenario } from '../scenario/read.js';
import type { Scenario } from '../scenario/schema/index.js';
import { version } from '../version.js';
import { PROBLEM_EXIT_CODE, STOPPED_EXIT_CODE } from './exit-codes.js';
import { heldOutTires, requireOwnFiles, requireReadable, type FitCommandOptions } from './fit-options.js';
import { fitUse, type FitUse } from './fit-use.js';
import { prepareFile, writeWhole } from './output.js';
import { phaseLine } from './phase-line.js';
import { progressLine } from './progress.js';

const DEFAULT_TRIALS = 500;
const MOST_TRIALS = 10_000_000;
const WIDTH = 100;

/** What the fit is used with: scenario before, and after the fit. */
interface Prepared {
  readonly before: Scenario;
  readonly logbook: Logbook;
}

/**
 * `gravelbar fit RECORDS --scenario FILE --out ASSUMPTIONS`: updates the assumptions of a scenario by records of tires in
 * service, writes them as a file that a scenario extends, and compares the season before and after.
 *
 * A fit that is stopped, refused or has not converged writes nothing. A fit that is done is written, whatever happens to
 * the season after it.
 *
 * @param records path of the log.
 * @param options from the command line.
 * @param signal stops the work.
 * @returns exit code: 0, 1 for a fit that tells nothing or has not converged, or 130 if it was stopped.
 * @throws ScenarioError, RecordsError, UsageError, NonFiniteError.
 */
export async function fitCommand(
  records: string,
  options: FitCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  if (fileKind(records) === 'scenario') {
    throw new UsageError(`${records} is a scenario, not a log of tires: the log goes first`);
  }
  requireOwnFiles(records, options);
  const trials = wholeNumber('trials', options.trials ?? DEFAULT_TRIALS, 2, MOST_TRIALS);
  let prepared: Prepared;
  try {
    prepared = prepare(records, options);
  } catch (error) {
    if (!(error instanceof RecordsError)) throw error;
    // Whoever mends records wants to see all that is wrong with them.
    return say(listProblems(error.problems, Infinity), PROBLEM_EXIT_CODE);
  }
  for (const file of outputsOf(options)) prepareFile(file);
  let fit: AssumptionFit;
  try {
    fit = await runFit(prepared, options, signal);
  } catch (error) {
    if (error instanceof NotConvergedError) return refuse(error);
    if (error instanceof CancelledError) {
      return say('stopped before the fit was done; there is nothing to show', STOPPED_EXIT_CODE);
    }
    throw error;
  }
  if (fit.draws.paths.length === 0) {
    return say('the records bear on no assumption of the scenario: nothing is written', PROBLEM_EXIT_CODE);
  }
  const text = assumptionsFile(fit, fitFindings(fit).doubts);
  let season: Season;
  try {
    season = options.season
      ? await runSeason(prepared, text, trials, options, signal)
      : { shift: null, leftOut: 'The season was left out, as asked for.' };
  } catch (error) {
    // The fit is finished work.
    writeWhole(options.out, text);
    process.stderr.write(`wrote ${printable(options.out)}\n`);
    throw error;
  }
  return finish(fit, season, text, prepared, options, signal);
}

function outputsOf({ out, page }: FitCommandOptions): string[] {
  return page === undefined ? [out] : [out, page];
}

/** Reads and checks all that can be checked before the long work. */
function prepare(records: string, { scenario: file, seed }: FitCommandOptions): Prepared {
  const { scenario } = readScenario(file);
  const before = seed === undefined ? scenario : { ...scenario, run: { ...scenario.run, seed } };
  return { before, logbook: readLogbook(records, { scenario: before }) };
}

async function runFit(
  { before, logbook }: Prepared,
  { draws, mostDraws, mix, holdOut }: FitCommandOptions,
  signal: AbortSignal,
): Promise<AssumptionFit> {
  const compiled = compileScenario(before);
  requireReadable(compiled, draws);
  const heldOut = heldOutTires(logbook, holdOut, compiled.seed);
  const line = phaseLine(process.stderr, 'fitting', 'until the chains agree');
  try {
    return await fitAssumptions(compiled, logbook, {
      draws,
      mostDraws,
      mix,
      heldOut,
      signal,
      onProgress: (share) => {
        line.update(share);
      },
    });
  } finally {
    line.clear();
  }
}

/** A fit that cannot be trusted is not for use: only why is told. */
function refuse({ fit }: NotConvergedError): number {
  const { largestRHat, smallestEffectiveSize, draws, chains } = fit.convergence;
  const lines = [
    `gravelbar: the fit did not converge, and nothing is written: after ${draws} draws its ${chains} chains still differ (R-hat up ` +
      `to ${largestRHat.toFixed(3)}, 1.02 is allowed) or are worth too few independent draws (${Math.round(smallestEffectiveSize)}).`,
    ...fit.checks.conflicts.map((conflict) => `So far, not for use: ${conflict}`),
    'Allow more draws (--most-draws), or look at the records and at assumptions that only act together.',
  ];
  process.stderr.write(`${lines.map((each) => wrap(printable(each), WIDTH, '  ')).join('\n')}\n`);
  return PROBLEM_EXIT_CODE;
}

interface Season {
  readonly shift: SeasonShift | null;
  /** Why it was left out. */
  readonly leftOut: string;
  readonly after?: Scenario;
}

async function runSeason(
  { before }: Prepared,
  text: string,
  trials: number,
  { scenario, workers }: FitCommandOptions,
  signal: AbortSignal,
): Promise<Season> {
  const { scenario: after } = readScenario(scenario, text);
  const line = progressLine(process.stderr);
  try {
    const shift = await seasonShift(before, after, {
      trials,
      workers,
      signal,
      onProgress: (progress) => {
        line.update(progress);
      },
    });
    return { shift, leftOut: '', after };
  } catch (error) {
    if (!(error instanceof CancelledError)) throw error;
    return { shift: null, leftOut: 'The season was left out: it was stopped. The fit is whole.', after };
  } finally {
    line.clear();
  }
}

async function finish(
  fit: AssumptionFit,
  { shift, leftOut }: Season,
  text: string,
  { before, logbook }: Prepared,
  options: FitCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  const { out, page, json } = options;
  writeWhole(out, text);
  const written = [out];
  const use = fitUse(options);
  if (page !== undefined) {
    const { makeFitPage } = await import('../report/fit-page.js');
    const sources = { scenario: before, logbook, fit, shift, seasonLeftOut: leftOut, use };
    const line = phaseLine(process.stderr, 'living the records again');
    try {
      const onProgress = (share: number): void => {
        line.update(share);
      };
      writeWhole(page, await makeFitPage(sources, { signal, onProgress }));
    } finally {
      line.clear();
    }
    written.push(page);
  }
  if (json === true) {
    const answer = {
      kind: 'gravelbar fit answer',
      formatVersion: 1,
      version: version(),
      fit,
      shift,
      seasonLeftOut: shift === null ? leftOut : null,
      assumptionsFile: out,
      use,
    };
    process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
  } else {
    process.stdout.write(`${fitText(fit, shift, leftOut, flownTogether(logbook))}\n\n${useText(use)}\n`);
  }
  process.stderr.write(`wrote ${written.map(printable).join(', ')}\n`);
  return signal.aborted ? say('stopped; the fit is finished and written', STOPPED_EXIT_CODE) : 0;
}

/** Told to the letter, so that it can be copied. */
function useText({ file, text, command }: FitUse): string {
  return [
    `To use the fit, make a file ${printable(file)} that holds this line, and run it:`,
    `  ${text}`,
    `  ${printable(command)}`,
    'The fitted numbers come last in the list, as later files go over earlier ones.',
  ].join('\n');
}

function say(message: string, exitCode: number): number {
  process.stderr.write(`gravelbar: ${message}\n`);
  return exitCode;
}
