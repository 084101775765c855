import { UsageError } from '../problems.js';
import { compileForAirplane } from '../scenario/compile-fleet.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Scenario } from '../scenario/schema/index.js';
import { indexOfName } from '../simulate/names.js';
import type { Progress } from '../simulate/simulate.js';
import { simulateFleetDemand } from './fleet-demand.js';
import { stockSpares, type SparesOptions, type SparesPlan } from './spares.js';

/** Airplanes that share a stock. */
export interface StockedAirplanes {
  /** Name in the fleet; null for the single airplane of a scenario without one. */
  readonly airplane: string | null;
  readonly count: number;
  readonly setup: string;
  readonly mix: string;
}

/** The stock of airplanes that stay on one gear set all season. */
export interface SparesCase {
  readonly airplanes: readonly StockedAirplanes[];
  readonly spares: SparesPlan;
}

/** What is stocked, and how much is simulated. */
export interface StockRequest extends SparesOptions {
  /** Seasons of each choice of gear sets. */
  readonly worlds: number;
  /** Called as seasons finish. */
  readonly onProgress?: ((progress: Progress) => void) | undefined;
  /** Stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/** The stock of airplanes, for each choice of gear sets. */
export interface StockedFleet {
  readonly cases: readonly SparesCase[];
  /** What the reader must know about how airplanes were put together, in sentences. */
  readonly remarks: readonly string[];
}

/** Airplanes that fly the same season with the same airplane, and each choice of their gear sets. */
export interface StockGroup {
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
export async function stockCases(scenario: Scenario, request: StockRequest): Promise<StockedFleet> {
  return await stockGroups(fleetGroups(scenario), request);
}

/**
 * Spares of groups of airplanes, for each choice of their gear sets.
 *
 * @param groups airplanes that share a stock.
 * @param request service, lead time, and how much to simulate.
 * @throws UsageError for options out of range; CancelledError when the signal fires.
 */
export async function stockGroups(
  groups: readonly StockGroup[],
  { worlds, onProgress, signal, ...options }: StockRequest,
): Promise<StockedFleet> {
  const totalTrials = worlds * groups.reduce((sum, { choices }) => sum + choices.length, 0);
  const cases: SparesCase[] = [];
  for (const { scenario, choices } of groups) {
    for (const airplanes of choices) {
      const before = worlds * cases.length;
      const demand = await simulateFleetDemand(scenario, {
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
 *
 * @param scenario a scenario with a fleet.
 * @param setup name of the set-up that all airplanes wear; default: each choice of their gear sets.
 * @throws UsageError for a scenario without a fleet, or a name that does not exist.
 */
export function fleetGroups(scenario: Scenario, setup?: string): StockGroup[] {
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
    const flown = entries.map(([, entry]) => entry.mix);
    const compiled = compileForAirplane(scenario, entries[0]![1], flown);
    const wanted =
      setup === undefined ? null : compiled.setups[indexOfName('set-up', setup, compiled.setups)]!.name;
    const most = Math.max(...entries.map(([, { gearSets }]) => gearSets.length));
    return {
      scenario: compiled,
      choices: Array.from({ length: wanted === null ? most : 1 }, (_, choice) =>
        entries.map(([name, entry]) => ({
          airplane: name,
          count: entry.count ?? 1,
          setup: wanted ?? entry.gearSets[Math.min(choice, entry.gearSets.length - 1)]!,
          mix: entry.mix,
        })),
      ),
    };
  });
}

function remarksOn(groups: readonly StockGroup[]): string[] {
  const remarks: string[] = [];
  // The choices of a single airplane are set-ups to compare, not gear sets that it changes.
  const changesGear = ({ choices }: StockGroup): boolean =>
    choices.length > 1 && choices[0]!.some(({ airplane }) => airplane !== null);
  if (groups.some(changesGear)) {
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
