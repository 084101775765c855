import { sparesChart } from '../chart/spares.js';
import { fleetGroups, stockGroups, type StockGroup } from '../decide/stock-cases.js';
import type { SparesAnswer } from '../present/decision-types.js';
import { sparesTable } from '../present/spares-table.js';
import { UsageError } from '../problems.js';
import { compileScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { indexOfName } from '../simulate/names.js';
import { version } from '../version.js';
import { answerQuestion, seeded, type DecisionOptions, type Following } from './decision.js';

/** Options of `gravelbar spares`. */
export interface SparesCommandOptions extends DecisionOptions {
  readonly service?: number;
  readonly leadTimeDays?: number;
  readonly setup?: string;
  readonly mix?: string;
}

const DEFAULT_SERVICE = 0.95;

/**
 * `gravelbar spares FILE`: tires, tubes and patch kits to keep for a wanted service, for the fleet of the scenario or for
 * one airplane.
 *
 * @param scenario the scenario of the file.
 * @param options from the command line.
 * @param signal stops the work; nothing is written then.
 * @returns exit code: 0, or 130 if it was stopped.
 * @throws UsageError, NonFiniteError; nothing is left behind then.
 */
export function sparesCommand(
  scenario: Scenario,
  options: SparesCommandOptions,
  signal: AbortSignal,
): Promise<number> {
  return answerQuestion('spares', options, signal, async (following) => {
    const answer = await sparesAnswerOf(seeded(scenario, options), options, following);
    return { result: answer, text: sparesTable(answer), chart: () => sparesChart(answer.cases, answer) };
  });
}

async function sparesAnswerOf(
  scenario: Scenario,
  options: SparesCommandOptions,
  { signal, onProgress }: Following,
): Promise<SparesAnswer> {
  const { service = DEFAULT_SERVICE, leadTimeDays, trials = scenario.run.trials } = options;
  requireService(service);
  const groups = scenario.fleet === undefined ? [ofOne(scenario, options)] : ofFleet(scenario, options);
  const request = { worlds: trials, serviceLevel: service, leadTimeDays, signal, onProgress };
  const { cases, remarks } = await stockGroups(groups, request);
  return {
    scenario: scenario.name,
    version: version(),
    seed: String(scenario.run.seed),
    trials,
    cases,
    remarks,
  };
}

/** Finds out before the simulation. */
function requireService(service: number): void {
  if (service > 0 && service < 1) return;
  throw new UsageError(`service is ${service}; it must be a share between 0 and 1, for example "95 %"`);
}

/** Every set-up of a scenario without a fleet, or the one asked for, on one mix. */
function ofOne(scenario: Scenario, { setup, mix }: SparesCommandOptions): StockGroup {
  const compiled = compileScenario(scenario);
  const { setups, mixes } = compiled;
  const onMix = mixes[mix === undefined ? 0 : indexOfName('runway mix', mix, mixes)]!.name;
  const chosen = setup === undefined ? setups : [setups[indexOfName('set-up', setup, setups)]!];
  return {
    scenario: compiled,
    choices: chosen.map(({ name }) => [{ airplane: null, count: 1, setup: name, mix: onMix }]),
  };
}

function ofFleet(scenario: Scenario, { setup, mix }: SparesCommandOptions): StockGroup[] {
  if (mix !== undefined)
    throw new UsageError('the fleet says which mix each airplane flies: leave out --mix');
  return fleetGroups(scenario, setup);
}
