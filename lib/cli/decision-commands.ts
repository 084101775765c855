import type { Command } from 'commander';
import { REMAINING_TRIALS } from '../decide/remaining-counts.js';
import type { CompareCommandOptions } from './compare-command.js';
import type { DriversCommandOptions } from './drivers-command.js';
import type { LimitsCommandOptions } from './limits-command.js';
import {
  daysOf,
  listed,
  oneOf,
  reachOf,
  seedText,
  severalOf,
  shareOf,
  wholeNumber,
} from './option-values.js';
import type { PlanCommandOptions } from './plan-command.js';
import type { PressureCommandOptions } from './pressure-command.js';
import type { RemainingCommandOptions } from './remaining-command.js';
import type { SparesCommandOptions } from './spares-command.js';

/** What plans are chosen by, by the word on the command line. */
const PLAN_WORDS = { cost: 'cost', days: 'daysLost', flats: 'flats' } as const;
/** What set-ups are compared by, likewise. */
const COMPARE_WORDS = { life: 'life', flats: 'flats', cost: 'costPerHour', days: 'daysLost' } as const;
/** What is tried for those words, and the word that is meant. */
const COMPARE_MEANT = { money: 'cost', costPerHour: 'cost', daysLost: 'days' } as const;
/** Pictures of the drivers, by the word on the command line. */
const PICTURES = {
  value: 'value',
  effects: 'effects',
  shares: 'shares',
  threshold: 'threshold-1',
  'threshold:2': 'threshold-2',
  'threshold:3': 'threshold-3',
} as const satisfies Readonly<Record<string, import('./drivers-command.js').DriverPicture>>;

/**
 * Adds the commands that answer questions. Each loads what it needs when it is called.
 *
 * @param program the command line.
 * @param signal stops the work of a command.
 * @param finish takes the exit code.
 */
export function addDecisionCommands(
  program: Command,
  signal: AbortSignal,
  finish: (code: number) => void,
): void {
  addLimits(program, signal, finish);
  addPressure(program, signal, finish);
  addCompare(program, signal, finish);
  addPlan(program, signal, finish);
  addSpares(program, signal, finish);
  addRemaining(program, signal, finish);
  addDrivers(program, signal, finish);
}

type Adds = (program: Command, signal: AbortSignal, finish: (code: number) => void) => void;

/** A command with what all of them have. */
function question(
  program: Command,
  name: string,
  about: string,
  trials = 'number of trials',
  files = `${name}.json, ${name}.txt and ${name}.svg`,
): Command {
  return program
    .command(name)
    .description(about)
    .argument('<file>', 'scenario file')
    .option('--trials <number>', trials, wholeNumber)
    .option('--seed <text>', 'seed of the random streams', seedText)
    .option('--json', 'print one JSON object instead of the text')
    .option('--out <folder>', `write ${files} into a folder`)
    .option('--chart <picture>', 'draw it; the file ends in .svg, .png or .json (Vega-Lite)');
}

function withWorkers(command: Command): Command {
  return command.option(
    '--workers <number>',
    'worker threads (the result does not depend on it)',
    wholeNumber,
  );
}

async function read(file: string): Promise<import('../scenario/schema/index.js').Scenario> {
  const { readScenario } = await import('../scenario/read.js');
  return readScenario(file).scenario;
}

const addLimits: Adds = (program, signal, finish) => {
  question(program, 'limits', 'hold set-ups against their limits: ratings, clearances, bead, water, pushing')
    .option('--setup <name>', 'tire set-up; default: all')
    .option('--mix <name>', 'runway mix that says where it lands; default: all')
    .action(async (file: string, options: LimitsCommandOptions) => {
      const scenario = await read(file);
      const { limitsCommand } = await import('./limits-command.js');
      finish(await limitsCommand(scenario, options, signal));
    });
};

const addPressure: Adds = (program, signal, finish) => {
  withWorkers(
    question(program, 'pressure', 'find the cold pressure of the main tires, and how often to check it'),
  )
    .requiredOption('--setup <name>', 'tire set-up')
    .option('--mix <name>', 'runway mix; default: the first one')
    .action(async (file: string, options: PressureCommandOptions) => {
      const scenario = await read(file);
      const { pressureCommand } = await import('./pressure-command.js');
      finish(await pressureCommand(scenario, options, signal));
    });
};

const addCompare: Adds = (program, signal, finish) => {
  withWorkers(
    question(program, 'compare', 'find the best set-up on each mix, by how much, and how sure that is'),
  )
    .option('--mix <name>', 'runway mix; default: all')
    .option(
      '--by <what>',
      'life, flats, cost or days; default: all of them',
      oneOf(COMPARE_WORDS, COMPARE_MEANT),
    )
    .action(async (file: string, options: CompareCommandOptions) => {
      const scenario = await read(file);
      const { compareCommand } = await import('./compare-command.js');
      finish(await compareCommand(scenario, options, signal));
    });
};

const addPlan: Adds = (program, signal, finish) => {
  question(program, 'plan', 'find which gear set to fly in which month, for the fleet of the scenario')
    .option('--by <what>', 'cost, days or flats; default: cost, or days without prices', oneOf(PLAN_WORDS))
    .option('--plans <number>', 'most plans to simulate for each airplane', wholeNumber)
    .action(async (file: string, options: PlanCommandOptions) => {
      const scenario = await read(file);
      const { planCommand } = await import('./plan-command.js');
      finish(await planCommand(scenario, options, signal));
    });
};

const addSpares: Adds = (program, signal, finish) => {
  question(program, 'spares', 'find the tires, tubes and patch kits to keep, for the fleet or one airplane')
    .option('--service <share>', 'wanted chance that nobody waits in the season; default: "95 %"', shareOf)
    .option('--lead-time <time>', 'until a used unit is replaced, e.g. "14 days"; default: never', daysOf)
    .option('--setup <name>', 'gear set that all airplanes fly; default: each in turn')
    .option('--mix <name>', 'runway mix of a scenario without a fleet; default: the first one')
    .action(async (file: string, options: SparesCommandOptions & { readonly leadTime?: number }) => {
      const scenario = await read(file);
      const { sparesCommand } = await import('./spares-command.js');
      const { leadTime, ...others } = options;
      const given = leadTime === undefined ? others : { ...others, leadTimeDays: leadTime };
      finish(await sparesCommand(scenario, given, signal));
    });
};

const addRemaining: Adds = (program, signal, finish) => {
  const { least, most, usual } = REMAINING_TRIALS;
  withWorkers(
    question(
      program,
      'remaining',
      'tell the life left in the tires on the airplane, from tread readings',
      `most trials, ${least} to ${most}, default ${usual}; fewer are run where they are enough`,
    ),
  )
    .option('--reach <time>', 'tell the chance to reach "60 h" or "45 days"; may be given again', reachOf)
    .action(async (file: string, options: RemainingCommandOptions) => {
      const scenario = await read(file);
      const { remainingCommand } = await import('./remaining-command.js');
      finish(await remainingCommand(scenario, options, signal));
    });
};

const addDrivers: Adds = (program, signal, finish) => {
  withWorkers(
    question(
      program,
      'drivers',
      'find the assumptions that decide between set-ups, how safe the choice is, and what to measure next',
      'trials of the common run, at least 100; default: 1000; with it grow those of each assumption moved (a tenth) and of each value of a threshold (a fifth)',
      'drivers.json, drivers.txt and the pictures',
    ),
  )
    .option('--mix <name>', 'runway mix; default: the one where knowing more is worth most')
    .option(
      '--by <what>',
      'life, flats, cost or days; default: cost, or life without prices',
      oneOf(COMPARE_WORDS, COMPARE_MEANT),
    )
    .option('--setup <name>', 'tire set-up to compare; give it twice or more; default: all', listed)
    .option(
      '--rows <number>',
      'how finely the spread is shared out: more rows, narrower shares; best a power of two; default: 256',
      wholeNumber,
    )
    .option('--details', 'print the tables below the answer too')
    .option(
      '--picture <what>',
      'what --chart draws: value, effects, shares, threshold (or threshold:2, threshold:3); may be given again, ' +
        'with {picture} in the name of the file: --chart x-{picture}.png, which alone draws all; ' +
        'default: value, or shares where nothing is worth measuring',
      severalOf(PICTURES),
    )
    .addHelpText(
      'after',
      '\nExample: gravelbar drivers scenarios/two-gear-sets.json --trials 500 --chart drivers-{picture}.png',
    )
    .action(async (file: string, options: DriversCommandOptions) => {
      const scenario = await read(file);
      const { driversCommand } = await import('./drivers-command.js');
      finish(await driversCommand(scenario, options, signal));
    });
};
