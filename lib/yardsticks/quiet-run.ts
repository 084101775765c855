import type { CompiledScenario } from '../scenario/compile.js';
import type { TrialColumns } from '../simulate/columns.js';
import { simulate } from '../simulate/simulate.js';
import type { YardstickRun } from './yardstick.js';

/** Columns of the trials of the one pairing of a quiet scenario, and of their twins. */
export interface QuietColumns {
  readonly columns: TrialColumns;
  readonly twins: TrialColumns;
}

/** Runs the one pairing of a quiet scenario. */
export async function runQuiet(
  scenario: CompiledScenario,
  { trials, onProgress, signal }: YardstickRun,
): Promise<QuietColumns> {
  const simulation = await simulate(scenario, { trials, workers: 1, onProgress, signal });
  return { columns: simulation.pairings[0]!.columns, twins: simulation.twins[0]!.columns };
}
