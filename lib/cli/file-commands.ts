import { InvalidArgumentError, type Command } from 'commander';
import type { CheckCommandOptions } from './check-command.js';
import type { LivesCommandOptions } from './lives-command.js';
import { oneOf, shareOf } from './option-values.js';

/** Units of a life, by the word on the command line. */
const UNIT_WORDS = { landings: 'landings', hours: 'flight hours', days: 'days' } as const;
/** What tires are put together by, likewise. */
const BY_WORDS = { setup: 'setup', class: 'tire class' } as const;

/** A use, added to those before. Throws InvalidArgumentError for what is none. */
function useOf(text: string, before: readonly number[] = []): readonly number[] {
  const use = /^\d{1,7}(\.\d{1,6})?$/.test(text) ? Number(text) : 0;
  if (use <= 0)
    throw new InvalidArgumentError('expected a number above 0 such as 150, in the unit of the lives.');
  return [...before, use];
}

/**
 * Adds the commands about files: check them, tell their schema, start new ones; and the lives that a log tells. Each loads
 * what it needs when it is called.
 *
 * @param program the command line.
 * @param finish takes the exit code.
 */
export function addFileCommands(program: Command, finish: (code: number) => void): void {
  program
    .command('lives')
    .description('tell how long tires lasted, from a log of tires in service')
    .argument('<records>', 'JSON file that describes the log')
    .option('--scenario <file>', 'scenario whose set-ups and strips the log names: they are checked')
    .option('--unit <unit>', 'landings, hours or days; default: landings', oneOf(UNIT_WORDS))
    .option('--by <what>', 'setup or class; default: setup', oneOf(BY_WORDS))
    .option('--at <use>', 'tell shares at this use, and the life left from there; may be given again', useOf)
    .option('--level <share>', 'level of intervals; default: "95 %"', shareOf)
    .option('--json', 'print one JSON object instead of the text')
    .action(async (file: string, options: LivesCommandOptions) => {
      const { livesCommand } = await import('./lives-command.js');
      process.stdout.write(livesCommand(file, options));
    });
  program
    .command('check')
    .description('check a scenario, or a log of tires, and say what it holds')
    .argument('<file>', 'scenario file, or the JSON file that describes a log')
    .option('--scenario <file>', 'for a log: scenario whose set-ups, tires, strips and surfaces it names')
    .action(async (file: string, options: CheckCommandOptions) => {
      const { checkCommand } = await import('./check-command.js');
      finish(checkCommand(file, options));
    });
  program
    .command('schema')
    .description('print the JSON Schema of scenario files, or of logs')
    .option('--records', 'of the file that describes a log of tires')
    .option('--page', 'print the reference page instead: all fields or columns, as Markdown')
    .action(async ({ page, records }: { readonly page?: boolean; readonly records?: boolean }) => {
      const { schemaOutput } = await import('./schema-command.js');
      process.stdout.write(schemaOutput(records === true ? 'records' : 'scenario', page === true));
    });
  program
    .command('new')
    .description('start a new scenario file from the defaults, or a log of tires')
    .argument('<path>', 'file to write; for a log the folder')
    .option('--records', 'start a log: a JSON file, CSV files with units in their headers, and the schema')
    .action(async (path: string, { records }: { readonly records?: boolean }) => {
      if (records === true) {
        const { newLogCommand } = await import('./new-log-command.js');
        process.stdout.write(`${newLogCommand(path)}\n`);
      } else {
        const { newCommand } = await import('./new-command.js');
        process.stdout.write(`${newCommand(path)}\n`);
      }
    });
}
