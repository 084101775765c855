import type { CompiledScenario } from '../../dist/scenario/compile.js';
import { emptyTrials, type ColumnName, type PairingTrials } from '../../dist/simulate/columns.js';
import type { Simulation } from '../../dist/simulate/simulate.js';
import { quietScenario } from './scenarios.js';

/** Columns of a pairing that are not 0. */
export type MadeColumns = Partial<Record<ColumnName, readonly number[]>>;

/** The quiet scenario with several set-ups of the same tire, and other changes laid over it. */
export function scenarioOf(
  setups: readonly string[],
  changes: Parameters<typeof quietScenario>[0] = {},
): CompiledScenario {
  const tires = {
    mainTire: 'plain',
    mainPressure: '30 psi',
    thirdTire: 'plain',
    thirdPressure: '30 psi',
  };
  return quietScenario(
    { setups: { only: null, ...Object.fromEntries(setups.map((name) => [name, tires])) } },
    changes,
  );
}

/** A run on the only mix of a scenario whose columns are made up, not simulated. */
export function madeRun(
  scenario: CompiledScenario,
  trials: Readonly<Record<string, MadeColumns>>,
  twins: Readonly<Record<string, MadeColumns>> = {},
): Simulation {
  const rows = Math.max(...Object.values(trials).map(rowsOf));
  const twinRows = Math.ceil(rows / 4);
  const table = (setup: string, columns: MadeColumns, length: number): PairingTrials => {
    const made = emptyTrials(scenario, setup, scenario.mixes[0]!.name, length);
    for (const [name, values] of Object.entries(columns)) made.columns[name as ColumnName].set(values);
    return made;
  };
  return {
    seed: scenario.seed,
    firstTrial: 0,
    trials: rows,
    complete: true,
    pairings: Object.entries(trials).map(([setup, columns]) => table(setup, columns, rows)),
    twins: Object.keys(trials).map((setup) => table(setup, twins[setup] ?? {}, twinRows)),
  };
}

function rowsOf(columns: MadeColumns): number {
  return Math.max(...Object.values(columns).map((values) => values.length));
}
