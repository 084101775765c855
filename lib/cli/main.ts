import { Command, CommanderError, InvalidArgumentError } from 'commander';
import { NonFiniteError, ScenarioError, UsageError } from '../problems.js';
import { printable } from '../present/words.js';
import { compileScenario } from '../scenario/compile.js';
import { readScenario } from '../scenario/read.js';
import { version } from '../version.js';
import { newCommand, schemaText } from './new-command.js';
import { runCommand, type RunCommandOptions } from './run-command.js';

const PROBLEM_EXIT_CODE = 1;
const USAGE_EXIT_CODE = 2;
const MODEL_EXIT_CODE = 3;

/**
 * The command line.
 *
 * @param argv arguments as in `process.argv`.
 * @returns exit code: 0 done, 1 a problem in a file, 2 a mistake in the command, 3 a model number that is not finite,
 *   130 stopped.
 */
export async function main(argv: readonly string[]): Promise<number> {
  let exitCode = 0;
  const program = commands((code) => {
    exitCode = code;
  });
  try {
    await program.parseAsync(argv);
    return exitCode;
  } catch (error) {
    return explain(error);
  }
}

function commands(finish: (code: number) => void): Command {
  const program = new Command('gravelbar')
    .description(
      'Tire life and puncture risk for light airplanes on mixed surfaces, by Monte Carlo simulation.',
    )
    .version(version())
    .showSuggestionAfterError()
    .exitOverride();
  program
    .command('run')
    .description('run a scenario and print the comparison of its pairings')
    .argument('<file>', 'scenario file')
    .option('--trials <number>', 'number of trials', wholeNumber)
    .option('--seed <text>', 'seed of the random streams')
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
      finish(await runCommand(file, options));
    });
  program
    .command('check')
    .description('check a scenario and say what it holds')
    .argument('<file>', 'scenario file')
    .action((file: string) => {
      const { scenario } = readScenario(file);
      const { setups, mixes, calendar, assumptions } = compileScenario(scenario);
      const unsure = assumptions.filter(({ kind }) => kind !== 'fixed').length;
      process.stdout.write(
        `${printable(file)} is valid: ${printable(scenario.name)}\n` +
          `  ${setups.length} set-ups x ${mixes.length} mixes = ${setups.length * mixes.length} pairings, ` +
          `${calendar.landingsPerYear} landings and ${calendar.flightHoursPerYear.toFixed(0)} flight hours a year, ` +
          `${unsure} of ${assumptions.length} assumptions uncertain\n`,
      );
    });
  program
    .command('schema')
    .description('print the JSON Schema of scenario files')
    .action(() => {
      process.stdout.write(schemaText());
    });
  program
    .command('new')
    .description('start a new scenario file from the defaults')
    .argument('<file>', 'file to write')
    .action((file: string) => {
      process.stdout.write(`${newCommand(file)}\n`);
    });
  for (const command of program.commands) command.exitOverride().showSuggestionAfterError();
  return program;
}

function wholeNumber(text: string): number {
  if (!/^\d{1,15}$/.test(text)) throw new InvalidArgumentError('expected a whole number such as 2000.');
  return Number(text);
}

function shareOf(text: string): number {
  const match = /^(\d+(?:\.\d+)?)\s*(%?)$/.exec(text);
  if (match === null) throw new InvalidArgumentError('expected a share such as "2 %" or 0.02.');
  return Number(match[1]) / (match[2] === '%' ? 100 : 1);
}

/** One clear message, no stack trace, except for faults of our own. */
function explain(error: unknown): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : USAGE_EXIT_CODE;
  if (error instanceof ScenarioError) return say(error.message, PROBLEM_EXIT_CODE);
  if (error instanceof UsageError) return say(error.message, USAGE_EXIT_CODE);
  if (error instanceof NonFiniteError) return say(error.message, MODEL_EXIT_CODE);
  throw error;
}

function say(message: string, exitCode: number): number {
  process.stderr.write(`gravelbar: ${message}\n`);
  return exitCode;
}
