import { printable } from '../present/words.js';
import { compileScenario } from '../scenario/compile.js';
import { readScenario } from '../scenario/read.js';

/**
 * `gravelbar check FILE`: checks a scenario.
 *
 * @param file scenario file.
 * @returns what it holds, in two lines.
 * @throws ScenarioError listing every problem.
 */
export function checkCommand(file: string): string {
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
