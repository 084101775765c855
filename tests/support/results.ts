import { runScenario, type Run } from '../../lib/run.js';
import { compileScenario, type CompiledScenario } from '../../lib/scenario/compile.js';
import { readScenario } from '../../lib/scenario/read.js';
import { shipped } from './command.js';

/** A small run of a shipped scenario, with the scenario. */
export interface ShippedRun extends Run {
  readonly scenario: CompiledScenario;
}

/** Runs the first trials of a shipped scenario. */
export async function runShipped(name: string, trials: number, firstTrial = 0): Promise<ShippedRun> {
  const scenario = compileScenario(readScenario(shipped(name)).scenario);
  return { scenario, ...(await runScenario(scenario, { trials, firstTrial, workers: 1 })) };
}

/** A run whose pairings have other names, in its result and in its simulation. */
export function renamed(
  run: ShippedRun,
  names: readonly (readonly [setup: string, mix: string])[],
): ShippedRun {
  const rename = <Named extends object>(tables: readonly Named[]): Named[] =>
    tables.map((table, index) => {
      const [setup, mix] = names[index % names.length]!;
      return { ...table, setup, mix };
    });
  const { result, simulation } = run;
  return {
    scenario: run.scenario,
    result: { ...result, pairings: rename(result.pairings) },
    simulation: { ...simulation, pairings: rename(simulation.pairings), twins: rename(simulation.twins) },
  };
}
