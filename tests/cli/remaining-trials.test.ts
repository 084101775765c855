import { Command } from 'commander';
import { expect, test } from 'vitest';
import { addDecisionCommands } from '../../lib/cli/decision-commands.js';
import { remainingLife } from '../../lib/decide/remaining-life.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { readScenario } from '../../lib/scenario/read.js';

test('gravelbar remaining says how many trials it takes, in its help and where there are too few', async () => {
  const program = new Command();
  addDecisionCommands(program, new AbortController().signal, () => undefined);
  const help = program.commands.find((command) => command.name() === 'remaining')!.helpInformation();
  expect(help.replaceAll(/\s+/g, ' ')).toContain('most trials, 500 to 100000, default 20000;');
  const scenario = compileScenario(readScenario('scenarios/my-tires-today.json').scenario);
  const { setup, mix } = scenario.today!;
  for (const trials of [499, 1, Number.NaN]) {
    await expect(remainingLife(scenario, { setup, mix, trials }, scenario.today!)).rejects.toThrow(
      `trials is ${trials}; it must be a whole number from 500 to 100000: trials are weighed by the readings`,
    );
  }
  await expect(remainingLife(scenario, { setup, mix, trials: 100_001 }, scenario.today!)).rejects.toThrow(
    'trials is 100001; it must be a whole number from 500 to 100000',
  );
});
