import { stringify } from 'csv-stringify/sync';
import type { RunResult } from '../run.js';
import type { CompiledScenario } from '../scenario/compile.js';
import type { Simulation } from '../simulate/simulate.js';
import { curveTable } from './curve-rows.js';
import { pairingTable } from './pairing-rows.js';
import type { Cell, Table } from './rows.js';
import { trialTable, type TrialSelection } from './trial-rows.js';

/** Rows made into text at a time: large enough for speed, small enough for memory. */
const ROWS_PER_PIECE = 500;

/**
 * Spreadsheets run a cell that starts like a formula, quoted or not. csv-stringify puts an apostrophe before such
 * texts (= + - @ and their full-width forms, tab, carriage return; negative numbers stay numbers). A line feed gets
 * one too, and so does an apostrophe: the first one can then be taken away without doubt.
 */
const BESIDE_FORMULAS = /^['\n]/;

/**
 * Where a semicolon is the list separator, spreadsheets split at it unless the cell is quoted, and what stands behind
 * it could start like a formula.
 */
const OTHER_SEPARATORS = /[;\t]/;

function lines(rows: readonly (readonly Cell[])[]): string {
  return stringify(rows as Cell[][], {
    escape_formulas: true,
    quoted_match: OTHER_SEPARATORS,
    cast: {
      boolean: String,
      string: (text) => (BESIDE_FORMULAS.test(text) ? `'${text}` : text),
    },
  });
}

function* pieces({ columns, rows }: Table): Generator<string> {
  yield lines([columns.map(({ name }) => name)]);
  let waiting: (readonly Cell[])[] = [];
  for (const row of rows) {
    waiting.push(row);
    if (waiting.length < ROWS_PER_PIECE) continue;
    yield lines(waiting);
    waiting = [];
  }
  if (waiting.length > 0) yield lines(waiting);
}

/**
 * The pairings as CSV text: a header row first, fields quoted as in RFC 4180, lines ended by a line feed. Nothing stands
 * where a figure is not known. A text that a spreadsheet would take for a formula has an apostrophe in front, and so
 * has one that begins with an apostrophe: take the first one away to get the text back.
 *
 * @param result the answer of a run.
 * @returns the rows of {@link pairingRows}.
 */
export function pairingsCsv(result: RunResult): string {
  return Array.from(pieces(pairingTable(result))).join('');
}

/**
 * The life curves as CSV text, written as {@link pairingsCsv} does.
 *
 * @param result the answer of a run.
 * @returns the rows of {@link curveRows}.
 */
export function curvesCsv(result: RunResult): string {
  return Array.from(pieces(curveTable(result))).join('');
}

/**
 * The trials as CSV, written as {@link pairingsCsv} does; yes and no are "true" and "false". It comes in pieces, as a
 * large run has more text than one string can hold (about 0.5 kB a row; Node's limit is 512 MB). `writeFile` of
 * node:fs/promises takes the pieces as they are; `[...trialsCsv(scenario, simulation)].join('')` makes them one text.
 *
 * @param scenario the compiled scenario that was run.
 * @param simulation its results.
 * @param selection set-up, mix and columns; default: all.
 * @returns pieces of whole lines, the header first; they can be read again.
 * @throws UsageError for a set-up, mix or column that does not exist.
 */
export function trialsCsv(
  scenario: CompiledScenario,
  simulation: Simulation,
  selection: TrialSelection = {},
): Iterable<string> {
  const table = trialTable(scenario, simulation, selection);
  return { [Symbol.iterator]: () => pieces(table) };
}
