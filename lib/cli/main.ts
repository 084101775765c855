import { setImmediate } from 'node:timers/promises';
import { Command, CommanderError } from 'commander';
import { NonFiniteError, plainText, ScenarioError, UsageError } from '../problems.js';
import { version } from '../version.js';
import { MODEL_EXIT_CODE, PROBLEM_EXIT_CODE, STOPPED_EXIT_CODE, USAGE_EXIT_CODE } from './exit-codes.js';
import type { ChartCommandOptions } from './chart-command.js';
import { addDecisionCommands } from './decision-commands.js';
import { addFileCommands } from './file-commands.js';
import { addFitCommand } from './fit-registration.js';
import { seedText, shareOf, wholeNumber } from './option-values.js';
import type { ReportCommandOptions } from './report-command.js';
import type { RunCommandOptions } from './run-command.js';

/**
 * The command line.
 *
 * @param argv arguments as in `process.argv`.
 * @param signal stops a run; its figures so far are then shown.
 * @returns exit code: 0 done, 1 a problem in a file, 2 a mistake in the command, 3 a model number that is not finite,
 *   130 stopped.
 */
export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  // A signal that came while modules were loading is only heard when the event loop turns.
  await setImmediate();
  if (signal.aborted) return say('stopped before it began', STOPPED_EXIT_CODE);
  let exitCode = 0;
  const program = commands(signal, (code) => {
    exitCode = code;
  });
  try {
    await program.parseAsync(argv);
    return exitCode;
  } catch (error) {
    return await explain(error);
  }
}

/** The commands. Each loads what it needs when it is called, so that help and mistakes come at once. */
function commands(signal: AbortSignal, finish: (code: number) => void): Command {
  const program = new Command('gravelbar')
    .description(
      'Tire life and puncture risk for light airplanes on mixed surfaces, by Monte Carlo simulation.',
    )
    .version(version())
    .showSuggestionAfterError()
    .configureOutput({
      outputError: (text, write) => {
        write(oneMessage(text));
      },
    })
    .exitOverride();
  program
    .command('run')
    .description('run a scenario and print the comparison of its pairings')
    .argument('<file>', 'scenario file')
    .option('--trials <number>', 'number of trials', wholeNumber)
    .option('--seed <text>', 'seed of the random streams', seedText)
    .option('--workers <number>', 'worker threads (the result does not depend on it)', wholeNumber)
    .option(
      '--precision <share>',
      'stop when each median life is known this well, e.g. "2 %" or 0.02',
      shareOf,
    )
    .option('--json', 'print one JSON object instead of the table')
    .option('--csv <file>', 'write the pairings as CSV')
    .option('--out <folder>', 'write result.json, pairings.csv and comparison.txt into a folder')
    .action(async (file: string, options: RunCommandOptions) => {
      const { readScenario } = await import('../scenario/read.js');
      const { scenario } = readScenario(file);
      const { runCommand } = await import('./run-command.js');
      finish(await runCommand(scenario, options, signal));
    });
  program
    .command('report')
    .description('run a scenario and write a report: one HTML file that opens offline')
    .argument('<file>', 'scenario file')
    .requiredOption('--out <folder>', 'folder for report.html, result.json, pairings.csv and comparison.txt')
    .option('--trials <number>', 'number of trials', wholeNumber)
    .option('--seed <text>', 'seed of the random streams', seedText)
    .option('--workers <number>', 'worker threads (the report does not depend on it)', wholeNumber)
    .option('--precision <share>', 'stop when each median life is known this well, e.g. "2 %"', shareOf)
    .action(async (file: string, options: ReportCommandOptions) => {
      const { readScenario } = await import('../scenario/read.js');
      const { scenario } = readScenario(file);
      const { reportCommand } = await import('./report-command.js');
      finish(await reportCommand(scenario, options, signal));
    });
  program
    .command('chart')
    .description('draw one chart of a scenario')
    .argument('<file>', 'scenario file')
    .argument('<name>', 'life, map, endings, wear, tread, pressure, inflation or story')
    .requiredOption('--out <picture>', 'file to write; it ends in .svg, .png or .json (Vega-Lite)')
    .option('--setup <name>', 'tire set-up; default: the first one')
    .option('--mix <name>', 'runway mix; default: the first one')
    .option('--trial <number>', 'trial that story opens, from 0', wholeNumber)
    .option('--no-today', 'leave the tires of today out of life')
    .option('--trials <number>', 'number of trials', wholeNumber)
    .option('--seed <text>', 'seed of the random streams', seedText)
    .option('--workers <number>', 'worker threads (the chart does not depend on it)', wholeNumber)
    .action(async (file: string, name: string, options: ChartCommandOptions) => {
      const { readScenario } = await import('../scenario/read.js');
      const { scenario } = readScenario(file);
      const { chartCommand } = await import('./chart-command.js');
      finish(await chartCommand(scenario, name, options, signal));
    });
  addDecisionCommands(program, signal, finish);
  addFitCommand(program, signal, finish);
  addFileCommands(program, finish);
  return program;
}

/** Message of a mistake in the command, in our words and without characters that disturb a terminal. */
function oneMessage(text: string): string {
  const lines = text
    .trim()
    .replace(/^error: /, 'gravelbar: ')
    .split('\n');
  return `${lines.map((line) => plainText(line, 500)).join('\n')}\n`;
}

/** One clear message, no stack trace, except for faults of our own. */
async function explain(error: unknown): Promise<number> {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : USAGE_EXIT_CODE;
  if (error instanceof ScenarioError) {
    const code = say(error.message, PROBLEM_EXIT_CODE);
    const { logHint } = await import('./log-hint.js');
    const hint = logHint(error);
    return hint === null ? code : say(hint, code);
  }
  if (error instanceof UsageError) return say(error.message, USAGE_EXIT_CODE);
  if (error instanceof NonFiniteError) return say(error.message, MODEL_EXIT_CODE);
  throw error;
}

function say(message: string, exitCode: number): number {
  process.stderr.write(`gravelbar: ${message}\n`);
  return exitCode;
}
