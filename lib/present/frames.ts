import { UsageError } from '../problems.js';
import type { RunResult } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import { curveTable } from './curve-rows.js';
import { loadDanfo } from './danfo.js';
import type { Frame, FrameValue } from './frame-types.js';
import { pairingTable } from './pairing-rows.js';
import type { Table, TableColumn } from './rows.js';
import { trialTable, type TrialSelection } from './trial-rows.js';

/** A cell takes some 35 bytes and as many again while rows are grouped; more would fill the memory of Node. */
const MOST_CELLS = 20_000_000;

/** The type by which danfojs knows a column. It keeps all numbers as doubles and calls those with fractions float32. */
function dtypeOf({ kind, mayBeMissing }: TableColumn): string {
  switch (kind) {
    case 'text':
      return 'string';
    case 'yes-no':
      return 'boolean';
    case 'number':
      return 'float32';
    case 'whole':
      return mayBeMissing ? 'float32' : 'int32';
  }
}

async function toFrame({ columns, rowCount, rows }: Table): Promise<Frame> {
  if (rowCount * columns.length > MOST_CELLS) {
    throw new UsageError(
      `${rowCount} rows of ${columns.length} columns are too many for a data frame, which holds ${MOST_CELLS} values at ` +
        'most: choose a set-up, a mix or columns, or write CSV',
    );
  }
  const { DataFrame } = await loadDanfo();
  // NaN is the one missing value that danfojs never takes for a number: its group means count null as 0.
  const data = Array.from(rows, (row) => row.map((cell): FrameValue => cell ?? NaN));
  const options = { columns: columns.map(({ name }) => name), dtypes: columns.map(dtypeOf) };
  return new DataFrame(data, options) as Frame;
}

/**
 * The pairings as a danfojs-node DataFrame, one row per pairing. Columns, units and meanings are in PAIRING_TABLE;
 * NaN stands where a figure is not known.
 *
 * @param result the answer of a run.
 * @returns the rows of pairingRows. {@link Frame} lists what works; a cast to danfojs's own type gives the rest.
 * @throws UsageError if danfojs-node, which is optional, is not installed; it says how to.
 */
export async function pairingFrame(result: RunResult): Promise<Frame> {
  return toFrame(pairingTable(result));
}

/**
 * The trials as a danfojs-node DataFrame, one row per pairing and trial. Columns, units and meanings are in
 * TRIAL_TABLE; NaN stands where a number is missing.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param selection set-up, mix and columns; default: all.
 * @returns the rows of trialRows; at most 20 million values (300 000 trials of all columns).
 * @throws UsageError for a set-up, mix or column that does not exist, for too many values, and if danfojs-node is not
 *   installed.
 * @example
 * import { compileScenario, readScenario, runScenario, trialFrame } from 'gravelbar';
 * const compiled = compileScenario(readScenario('scenarios/first.json').scenario);
 * const { result, simulation } = await runScenario(compiled, { trials: 40, workers: 1 });
 * const frame = await trialFrame(compiled, simulation, { columns: ['pairing_number', 'life_hours'] });
 * frame.shape; // => [80, 2]
 * const means = frame.groupby(['pairing_number']).col(['life_hours']).mean().column('life_hours_mean').values;
 * Math.abs(Number(means[0]) - result.pairings[0].life.hours.mean) < 1e-9; // => true
 */
export async function trialFrame(
  scenario: CompiledScenario,
  simulation: Simulation,
  selection: TrialSelection = {},
): Promise<Frame> {
  return toFrame(trialTable(scenario, simulation, selection));
}

/**
 * The life curves as a danfojs-node DataFrame, one row per pairing and point. Columns, units and meanings are in
 * CURVE_TABLE.
 *
 * @param result the answer of a run.
 * @returns the rows of curveRows.
 * @throws UsageError if danfojs-node is not installed.
 */
export async function curveFrame(result: RunResult): Promise<Frame> {
  return toFrame(curveTable(result));
}
