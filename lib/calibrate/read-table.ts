import { valueText, type Problem } from '../problems.js';
import { parseQuantity } from '../units.js';
import { readCsvTable } from './csv-table.js';
import { ColumnFinder, type FoundColumn, type ProblemOfTable, type Words } from './find-columns.js';
import type { TableFile } from './logbook-schema.js';
import { readCell } from './read-cell.js';
import type { RecordPlace } from './record-types.js';
import { RECORD_TABLES, type Cells, type TableName } from './table-columns.js';
import { properFraction } from './unit-words.js';

/** A row of a table of records, with every cell read. */
export interface RecordRow<Name extends TableName> {
  readonly place: RecordPlace;
  readonly cells: Cells<Name>;
  /** The number of a column as it stands in the file; null where it stands there in the unit of messages (mm), or not. */
  written(column: keyof Cells<Name> & string): string | null;
  /** A problem with this row, told at one of its columns. */
  problem(column: keyof Cells<Name> & string, details: Omit<Problem, 'file' | 'line' | 'path'>): Problem;
}

/** A value that is always the same; a number stands with its unit. */
function readAlways(text: string, column: FoundColumn): ReturnType<typeof readCell> {
  const { spec, words } = column;
  if (spec.kind === 'number') {
    const read = parseQuantity(text, spec.dimension!);
    if (!read.ok) {
      const fraction = properFraction(text);
      const problem = { found: valueText(text), allowed: read.reason };
      return {
        ok: false,
        problem: fraction === null ? problem : { ...problem, suggestion: `write "${fraction}"` },
      };
    }
  }
  return readCell(text, spec, null, '.', words);
}

/**
 * Reads one table of records.
 *
 * @param tableName which.
 * @param table where it stands.
 * @param source text or bytes of its file.
 * @param words words of the log.
 * @param problems what is wrong is added here: with the columns, and with every cell.
 * @param ofTable makes a problem of the file that describes the log.
 * @returns rows of which every cell was read; none where a column could not be found or read.
 */
export function readTable<Name extends TableName>(
  tableName: Name,
  table: TableFile,
  source: string | Uint8Array,
  words: Words,
  problems: Problem[],
  ofTable: ProblemOfTable,
): RecordRow<Name>[] {
  const csv = readCsvTable(source, table.file, table.delimiter, problems);
  if (csv === null) return [];
  const before = problems.length;
  const { found } = new ColumnFinder(table, tableName, csv, words, problems, ofTable);
  const blank: Record<string, string | number | null> = {};
  for (const name of Object.keys(RECORD_TABLES[tableName])) blank[name] = null;
  for (const column of found.filter(({ index }) => index < 0)) {
    const read = readAlways(table.always![column.name]!, column);
    if (read.ok) blank[column.name] = read.value;
    else problems.push(ofTable(['always', column.name], read.problem));
  }
  const whole = problems.length === before;
  const headers = new Map(found.map(({ name, header }) => [name, header]));
  return csv.rows.flatMap(({ line, cells: texts }) => {
    const cells = { ...blank };
    let good = true;
    for (const { name, spec, unit, index, words: ours, header } of found) {
      if (index < 0) continue;
      const read = readCell(texts[index]!, spec, unit, table.decimal, ours);
      if (read.ok) cells[name] = read.value;
      else {
        good = false;
        problems.push({ file: table.file, line, path: header, ...read.problem });
      }
    }
    // Cells are checked also where a column is missing, but such rows are none.
    if (!good || !whole) return [];
    const place = { file: table.file, line };
    const row: RecordRow<Name> = {
      place,
      cells: cells as Cells<Name>,
      written: (column) => {
        const at = found.find(({ name, index }) => name === column && index >= 0);
        const inMm = at?.unit?.name === 'mm' && at.unit.per === 1;
        return at === undefined || inMm ? null : texts[at.index]!;
      },
      problem: (column, details) => ({ ...place, path: headers.get(column) ?? column, ...details }),
    };
    return [row];
  });
}
