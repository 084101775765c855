import type { Command } from 'commander';
import type { FitCommandOptions } from './fit-options.js';
import { seedText, wholeNumber } from './option-values.js';

/**
 * Adds `gravelbar fit`, which loads what it needs when it is called.
 *
 * @param program the command line.
 * @param signal stops its work.
 * @param finish takes the exit code.
 */
export function addFitCommand(program: Command, signal: AbortSignal, finish: (code: number) => void): void {
  program
    .command('fit')
    .description(
      'fit the assumptions of a scenario to records of tires, and compare the season before and after',
    )
    .argument('<records>', 'logbook file: JSON that names CSV files')
    .requiredOption('--scenario <file>', 'scenario whose assumptions are fitted; the records use its names')
    .requiredOption('--out <file>', 'file of fitted assumptions, for a scenario to extend')
    .option('--page <file>', 'write a page with charts: one HTML file that opens offline')
    .option('--json', 'print one JSON object instead of the text')
    .option('--hold-out <tire...>', 'only foretell the readings of these tires, or of a share such as "20 %"')
    .option('--mix <name>', 'runway mix of landings whose ground is not recorded; default: the first one')
    .option('--trials <number>', 'trials of the season, before and after; default: 500', wholeNumber)
    .option('--no-season', 'do not simulate the season')
    .option('--seed <text>', 'seed of the random streams', seedText)
    .option('--draws <number>', 'draws of the fitted assumptions to keep; default: 1000', wholeNumber)
    .option(
      '--most-draws <number>',
      'most draws of a chain before the fit gives up; default: 50000',
      wholeNumber,
    )
    .option(
      '--workers <number>',
      'worker threads of the season (the result does not depend on it)',
      wholeNumber,
    )
    .action(async (records: string, options: FitCommandOptions) => {
      const { fitCommand } = await import('./fit-command.js');
      finish(await fitCommand(records, options, signal));
    });
}
