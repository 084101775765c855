import { simulateFleetDemand } from '../decide/fleet-demand.js';
import { stockSpares, type SparesOptions } from '../decide/spares.js';
import type { SparesCase, StockedAirplanes } from '../present/decision-types.js';
import { UsageError } from '../problems.js';
import { compileScenario, type CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import type { Progress } from '../simulate/simulate.js';

/** What is stocked, and how much is simulated. */
export interface StockRequest extends SparesOptions {
  /** Seasons of each choice of gear sets. */
  readonly worlds: number;
  /** Called as seasons finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** The stock of a fleet, for each choice of gear sets. */
export interface StockedFleet {
  readonly cases: readonly SparesCase[];
  /** What the reader must know about how airplanes were put together, in sentences. */
  readonly remarks: readonly string[];
}

/** Airplanes that share a stock, and each choice of their gear sets. */
interface Group {
  readonly scenario: CompiledScenario;
  readonly choices: readonly (readonly StockedAirplanes[])[];
}

/**
 * Spares of the fleet of a scenario, for each choice of gear sets.
 *
 * @param scenario a scenario with a fleet.
 * @param request service, lead time, and how much to simulate.
 * @throws UsageError for a scenario without a fleet, and for options out of range; CancelledError when the signal fires.
 */
export async function stockCases(
  scenario: Scenario,
  { worlds, onProgress, signal, ...options }: StockRequest,
): Promise<StockedFleet> {
  const groups = groupsOf(scenario);
  const totalTrials = worlds * groups.reduce((sum, { choices }) => sum + choices.length, 0);
  const cases: SparesCase[] = [];
  for (const { scenario: compiled, choices } of groups) {
    for (const airplanes of choices) {
      const before = worlds * cases.length;
      const demand = await simulateFleetDemand(compiled, {
        fleet: airplanes.map(({ setup, mix, count }) => ({ setup, mix, airplanes: count })),
        worlds,
        signal,
        onProgress: ({ finishedTrials }) =>
          onProgress?.({ finishedTrials: before + finishedTrials, totalTrials }),
      });
      cases.push({ airplanes, spares: stockSpares(demand, options) });
    }
  }
  return { cases, remarks: remarksOn(groups) };
}

/**
 * The fleet in groups that can share a stock, since they live in one compiled scenario. The first choice of a group has
 * every airplane on its first gear set, the second on its second, and so on; an airplane with fewer stays on its last.
 */
function groupsOf(scenario: Scenario): Group[] {
  if (scenario.fleet === undefined) {
    throw new UsageError(
      'the scenario has no "fleet": say there which airplanes fly, and which gear sets fit',
    );
  }
  const named = Object.entries(scenario.fleet.airplanes);
  type Entry = (typeof named)[number][1];
  const keyOf = ({ airplane, season }: Entry): string => JSON.stringify([airplane, season]);
  const keys = [...new Set(named.map(([, entry]) => keyOf(entry)))];
  return keys.map((key) => {
    const entries = named.filter(([, entry]) => keyOf(entry) === key);
    const { airplane = scenario.airplane, season = scenario.season } = entries[0]![1];
    // Other mixes by month may lack months of this season.
    const flown = new Set(entries.map(([, entry]) => entry.mix));
    const monthly = Object.entries(scenario.monthlyMixes ?? {}).filter(([name]) => flown.has(name));
    const most = Math.max(...entries.map(([, { gearSets }]) => gearSets.length));
    return {
      scenario: compileScenario({
        ...scenario,
        airplane,
        season,
        monthlyMixes: Object.fromEntries(monthly),
        today: undefined,
      }),
      choices: Array.from({ length: most }, (_, choice) =>
        entries.map(([name, entry]) => ({
          airplane: name,
          count: entry.count ?? 1,
          setup: entry.gearSets[Math.min(choice, entry.gearSets.length - 1)]!,
          mix: entry.mix,
        })),
      ),
    };
  });
}

function remarksOn(groups: readonly Group[]): string[] {
  const remarks: string[] = [];
  if (groups.some(({ choices }) => choices.length > 1)) {
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
