import { END_CAUSES } from '../estimate/curves.js';
import type { PairingSummary } from '../estimate/summary.js';
import type { RunResult } from '../run.js';
import { PAIRING_NAME_COLUMNS } from './pairing-columns.js';
import {
  column,
  describeColumns,
  recordsOf,
  tableOf,
  type ReadableColumn,
  type Table,
  type TableColumn,
} from './rows.js';

/** What a row is made from: one point of the curves of a pairing. */
interface CurveSource {
  readonly pairing: PairingSummary;
  readonly number: number;
  readonly point: number;
}

type CurveColumn = ReadableColumn<CurveSource>;

const COLUMNS: readonly CurveColumn[] = [
  ...PAIRING_NAME_COLUMNS,
  column(
    'whole',
    'landings',
    'landings',
    'landings flown with the main tires',
    ({ pairing: { curves }, point }) => curves.landings[point]!,
  ),
  column(
    'number',
    'flight_hours',
    'hours',
    'flight hours flown with them',
    ({ pairing: { curves }, point }) => curves.hours[point]!,
  ),
  column(
    'number',
    'in_service_chance',
    'chance',
    'chance that both first main tires are still in service after these landings',
    ({ pairing: { curves }, point }) => curves.survival[point]!,
  ),
  ...(['lower', 'upper'] as const).map((end) =>
    column<CurveSource, 'number'>(
      'number',
      `in_service_chance_mc95_${end}`,
      'chance',
      `${end} end of its Monte Carlo 95 % interval, point by point`,
      ({ pairing: { curves }, point }) => curves[end][point]!,
    ),
  ),
  ...END_CAUSES.map((cause) =>
    column<CurveSource, 'number'>(
      'number',
      `ended_${cause}_chance`,
      'chance',
      `chance that the first of them has come off by then: ${cause}`,
      ({ pairing: { curves }, point }) => curves.incidence[cause][point]!,
    ),
  ),
];

/** Columns of the table of curve points: names, kinds, units and meanings. */
export const CURVE_TABLE: readonly TableColumn[] = describeColumns(COLUMNS);

function* points({ pairings }: RunResult): Generator<CurveSource> {
  for (const [number, pairing] of pairings.entries()) {
    for (let point = 0; point < pairing.curves.landings.length; point++) yield { pairing, number, point };
  }
}

/** The table of curve points of a result. */
export function curveTable(result: RunResult): Table {
  const count = result.pairings.reduce((sum, { curves }) => sum + curves.landings.length, 0);
  return tableOf(COLUMNS, count, () => points(result));
}

/**
 * The life curves as rows: for each pairing the chance that the main tires are still in service, with its interval,
 * and the chances that they have come off, cause by cause; {@link CURVE_TABLE} describes the columns.
 *
 * @param result the answer of a run.
 * @returns one record per pairing and point, in order of landings; the first point is at 0 landings.
 */
export function curveRows(result: RunResult): Record<string, string | number>[] {
  return Array.from(recordsOf(curveTable(result))) as Record<string, string | number>[];
}
