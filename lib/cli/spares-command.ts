import { sparesChart } from '../chart/spares.js';
import { simulateFleetDemand } from '../decide/fleet-demand.js';
import { stockSpares } from '../decide/spares.js';
import type { SparesAnswer, SparesCase, StockedAirplanes } from '../present/decision-types.js';
import { sparesTable } from '../present/spares-table.js';
import { UsageError } from '../problems.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
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

/** Airplanes that fly the same season with the same airplane, and each choice of their gear sets. */
interface Group {
  readonly scenario: CompiledScenario;
  readonly choices: readonly (readonly StockedAirplanes[])[];
}

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
  const totalTrials = trials * groups.reduce((sum, { choices }) => sum + choices.length, 0);
  const cases: SparesCase[] = [];
  for (const group of groups) {
    for (const airplanes of group.choices) {
      const before = trials * cases.length;
      const demand = await simulateFleetDemand(group.scenario, {
        fleet: airplanes.map(({ setup, mix, count }) => ({ setup, mix, airplanes: count })),
        worlds: trials,
        signal,
        onProgress: ({ finishedTrials }) => {
          onProgress({ finishedTrials: before + finishedTrials, totalTrials });
        },
      });
      cases.push({ airplanes, spares: stockSpares(demand, { serviceLevel: service, leadTimeDays }) });
    }
  }
  return {
    scenario: scenario.name,
    version: version(),
    seed: String(scenario.run.seed),
    trials,
    cases,
    remarks: remarksOn(groups),
  };
}

/** Finds out before the simulation. */
function requireService(service: number): void {
  if (service > 0 && service < 1) return;
  throw new UsageError(`service is ${service}; it must be a share between 0 and 1, for example "95 %"`);
}

/** Every set-up of a scenario without a fleet, or the one asked for, on one mix. */
function ofOne(scenario: Scenario, { setup, mix }: SparesCommandOptions): Group {
  const compiled = compileScenario(scenario);
  const { setups, mixes } = compiled;
  const onMix = mixes[mix === undefined ? 0 : indexOfName('runway mix', mix, mixes)]!.name;
  const chosen = setup === undefined ? setups : [setups[indexOfName('set-up', setup, setups)]!];
  return {
    scenario: compiled,
    choices: chosen.map(({ name }) => [{ airplane: null, count: 1, setup: name, mix: onMix }]),
  };
}

/**
 * The fleet in groups that can share a stock, since they live in one compiled scenario. The first choice of a group has
 * every airplane on its first gear set, the second on its second, and so on; an airplane with fewer stays on its last.
 */
function ofFleet(scenario: Scenario, { setup, mix }: SparesCommandOptions): Group[] {
  if (mix !== undefined)
    throw new UsageError('the fleet says which mix each airplane flies: leave out --mix');
  const named = Object.entries(scenario.fleet!.airplanes);
  const keyOf = ({ airplane, season }: (typeof named)[number][1]): string =>
    JSON.stringify([airplane, season]);
  const keys = [...new Set(named.map(([, entry]) => keyOf(entry)))];
  return keys.map((key) => {
    const entries = named.filter(([, entry]) => keyOf(entry) === key);
    const { airplane = scenario.airplane, season = scenario.season } = entries[0]![1];
    // Other mixes by month may lack months of this season.
    const flown = new Set(entries.map(([, entry]) => entry.mix));
    const monthly = Object.entries(scenario.monthlyMixes ?? {}).filter(([name]) => flown.has(name));
    const compiled = compileScenario({
      ...scenario,
      airplane,
      season,
      monthlyMixes: Object.fromEntries(monthly),
      today: undefined,
    });
    const wanted =
      setup === undefined ? null : compiled.setups[indexOfName('set-up', setup, compiled.setups)]!.name;
    const most = Math.max(...entries.map(([, { gearSets }]) => gearSets.length));
    const choices = Array.from({ length: wanted === null ? most : 1 }, (_, choice) =>
      entries.map(([name, entry]) => ({
        airplane: name,
        count: entry.count ?? 1,
        setup: wanted ?? entry.gearSets[Math.min(choice, entry.gearSets.length - 1)]!,
        mix: entry.mix,
      })),
    );
    return { scenario: compiled, choices };
  });
}

function remarksOn(groups: readonly Group[]): string[] {
  const remarks: string[] = [];
  if (
    groups.some(({ choices }) => choices.length > 1 && choices[0]!.some(({ airplane }) => airplane !== null))
  ) {
    remarks.push(
      'Each gear set is taken to stay on all season. An airplane that changes sets asks for at most as much of each; what it ' +
        'asks for in parts of a season is not simulated.',
    );
  }
  if (groups.length > 1) {
    remarks.push(
      'Airplanes that differ in type or season are stocked apart: a stock that they share would need fewer of what they share.',
    );
  }
  return remarks;
}
