import { basename } from 'node:path';
import { fileKind, isFitAlone } from '../calibrate/logbook-kind.js';
import { readLogbook } from '../calibrate/read-logbook.js';
import { RecordsError } from '../calibrate/records-error.js';
import { checkedText } from '../present/records-text.js';
import { printable } from '../present/words.js';
import { listProblems, UsageError } from '../problems.js';
import { compileScenario } from '../scenario/compile.js';
import { readScenario } from '../scenario/read.js';
import { PROBLEM_EXIT_CODE } from './exit-codes.js';

/** Options of `gravelbar check`. */
export interface CheckCommandOptions {
  /** For a log: the scenario whose names it uses. */
  readonly scenario?: string;
}

/**
 * `gravelbar check FILE`: checks a scenario or a log of tires and prints what it holds. Of a log every bad row is named,
 * however many there are.
 *
 * @param file scenario file, or the JSON file that describes a log.
 * @param options the scenario of a log.
 * @returns exit code: 0, or 1 for a log with problems.
 * @throws ScenarioError listing every problem of a scenario; UsageError for a scenario beside a scenario, and for a
 *   file of fitted assumptions.
 */
export function checkCommand(file: string, { scenario }: CheckCommandOptions = {}): number {
  const kind = fileKind(file);
  if (kind === 'scenario' || (kind === null && scenario === undefined)) {
    if (scenario !== undefined) {
      throw new UsageError('--scenario goes with a log of tires, not with a scenario');
    }
    if (isFitAlone(file)) {
      throw new UsageError(
        `${file} holds fitted assumptions, not a whole scenario: check the scenario that extends it, such as ` +
          `{ "extends": ["SCENARIO", "${basename(file)}"] }, where SCENARIO is the one that was fitted`,
      );
    }
    process.stdout.write(`${scenarioText(file)}\n`);
    return 0;
  }
  const names = scenario === undefined ? undefined : readScenario(scenario).scenario;
  try {
    process.stdout.write(
      `${checkedText(file, readLogbook(file, { scenario: names }), names?.name ?? null)}\n`,
    );
    return 0;
  } catch (error) {
    if (!(error instanceof RecordsError)) throw error;
    process.stderr.write(`gravelbar: ${listProblems(error.problems, Infinity)}\n`);
    return PROBLEM_EXIT_CODE;
  }
}

function scenarioText(file: string): string {
  const { scenario } = readScenario(file);
  const { setups, mixes, calendar, assumptions } = compileScenario(scenario);
  const unsure = assumptions.filter(({ kind }) => kind !== 'fixed').length;
  return (
    `${printable(file)} is valid: ${printable(scenario.name)}\n` +
    `  airplane ${printable(scenario.airplane)}; set-ups ${setups.length} x mixes ${mixes.length} = pairings ${setups.length * mixes.length}; ` +
    `${calendar.landingsPerYear} landings and ${calendar.flightHoursPerYear.toFixed(0)} flight hours a year; ` +
    `${unsure} of ${assumptions.length} assumptions have a range`
  );
}
