import { headerOf, RECORD_TABLES, TABLE_NAMES, type ColumnSpec, type TableName } from './table-columns.js';

type Row<Name extends TableName> = { readonly [Column in keyof (typeof RECORD_TABLES)[Name]]?: string };
type Rows = { readonly [Name in TableName]: readonly Row<Name>[] };

/** Name in the rows of a new log that are there to be replaced. */
const EXAMPLE = 'EXAMPLE';
/** Name of the schema of logs beside a log. */
export const LOG_SCHEMA_NAME = 'logbook.schema.json';

/** Invented rows of a new log: one tire that was cut and one in service, with what else is told of them. */
const ROWS: Rows = {
  tires: [
    {
      tire: `${EXAMPLE}-1`,
      airplane: EXAMPLE,
      position: 'left main',
      setup: 'soft 9 psi',
      fitted: '2024-05-01',
      removed: '2024-07-20',
      cause: 'cut',
    },
    {
      tire: `${EXAMPLE}-2`,
      airplane: EXAMPLE,
      position: 'right main',
      setup: 'soft 9 psi',
      fitted: '2024-05-01',
      'landings before': '40',
    },
  ],
  readings: [
    { tire: `${EXAMPLE}-1`, date: '2024-06-01', band: 'centre', groove: '2.4' },
    { tire: `${EXAMPLE}-2`, date: '2024-06-01', band: 'worst spot', groove: '1.9' },
  ],
  flights: [
    { airplane: EXAMPLE, date: '2024-05-04', strip: 'home pavement', landings: '4', hours: '3.0' },
    { airplane: EXAMPLE, date: '2024-06-15', strip: 'valley gravel', landings: '6', hours: '4.5' },
  ],
  pressure: [{ tire: `${EXAMPLE}-1`, date: '2024-06-01', found: '8.6', set: '9.0', temperature: '14' }],
  cuts: [{ tire: `${EXAMPLE}-2`, date: '2024-06-15', depth: '2.5', place: 'tread' }],
};

/** Columns of a new log: all but those that few logs have; they can be added under the names of `RECORD_TABLES`. */
const LEFT_OUT: Readonly<Record<TableName, readonly string[]>> = {
  tires: ['class', 'hours before', 'last seen', 'landings', 'hours', 'count'],
  readings: ['error', 'step', 'repeat'],
  flights: ['to date', 'surface', 'braking', 'airframe hours'],
  pressure: ['airplane', 'position', 'elevation'],
  cuts: ['airplane', 'position'],
};

/**
 * A log to start from: the file that describes it, and a CSV file for each table with the headers, units and an
 * invented row or two, whose tires and airplane are called EXAMPLE. Its set-up is one of the scenario that
 * `gravelbar new` writes.
 *
 * @returns texts by file name; the first one describes the log.
 */
export function starterLog(): Record<string, string> {
  const description = {
    $schema: `./${LOG_SCHEMA_NAME}`,
    name: 'My log',
    note: 'The rows called EXAMPLE are invented: put your own in their place.',
    firstDay: '2024-05-01',
    lastDay: '2024-08-31',
    leastCutDepth: '2 mm',
    tires: { file: 'tires.csv' },
    readings: { file: 'readings.csv', always: { error: '0.15 mm', step: '0.1 mm' } },
    flights: { file: 'flights.csv' },
    pressure: { file: 'pressure.csv' },
    cuts: { file: 'cuts.csv' },
  };
  const tables = TABLE_NAMES.map((table): [string, string] => [`${table}.csv`, tableText(table)]);
  return { 'logbook.json': `${JSON.stringify(description, null, 2)}\n`, ...Object.fromEntries(tables) };
}

function tableText(table: TableName): string {
  const columns = Object.entries<ColumnSpec>(RECORD_TABLES[table]).filter(
    ([name]) => !LEFT_OUT[table].includes(name),
  );
  const given: readonly Readonly<Record<string, string | undefined>>[] = ROWS[table];
  const rows = given.map((row) => columns.map(([name]) => row[name] ?? ''));
  // No cell holds a comma or a quote.
  return [columns.map(([name, spec]) => headerOf(name, spec)), ...rows]
    .map((cells) => `${cells.join(',')}\n`)
    .join('');
}
