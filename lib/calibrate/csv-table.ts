import { CsvError, parse } from 'csv-parse/sync';
import { valueText, type Problem } from '../problems.js';

/** A row of a CSV file. */
export interface CsvRow {
  /** Line on which it begins, counted from 1. */
  readonly line: number;
  /** Cells without blanks around them. */
  readonly cells: readonly string[];
}

/** A CSV file: the header and the rows as wide as it. */
export interface CsvTable {
  /** Line of the header: above it there may be lines without anything. */
  readonly headerLine: number;
  readonly headers: readonly string[];
  readonly rows: readonly CsvRow[];
}

const DELIMITERS = { ',': ',', ';': ';', tab: '\t' } as const;
/** Most bytes of a CSV file: a hundred airplanes for a hundred years are less. */
const MAX_CSV_BYTES = 50_000_000;

function decode(source: string | Uint8Array, file: string, problems: Problem[]): string | null {
  if (source.length > MAX_CSV_BYTES) {
    const allowed = `expected at most ${MAX_CSV_BYTES / 1e6} MB`;
    problems.push({ file, path: '', found: `${Math.ceil(source.length / 1e6)} MB`, allowed });
    return null;
  }
  if (typeof source === 'string') return source;
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(source);
  } catch {
    const allowed = 'expected text in UTF-8';
    const suggestion = 'save the sheet as "CSV UTF-8"';
    problems.push({ file, path: '', found: 'bytes that are not UTF-8', allowed, suggestion });
    return null;
  }
}

interface ParsedRow {
  readonly info: { readonly lines: number };
  readonly record: string[];
}

/**
 * Reads a CSV file as RFC 4180 has it.
 *
 * @param source text or UTF-8 bytes.
 * @param file what to call it in messages.
 * @param delimiter what stands between cells.
 * @param problems what is wrong is added here.
 * @returns header and rows; rows with another number of cells than the header are told and left out. Null if the file
 * is no CSV at all.
 */
export function readCsvTable(
  source: string | Uint8Array,
  file: string,
  delimiter: keyof typeof DELIMITERS,
  problems: Problem[],
): CsvTable | null {
  const text = decode(source, file, problems);
  if (text === null) return null;
  let parsed: ParsedRow[];
  try {
    parsed = parse(text, {
      bom: true,
      delimiter: DELIMITERS[delimiter],
      info: true,
      relax_column_count: true,
      trim: true,
    }) as unknown as ParsedRow[];
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error['lines'] === 'number' ? { line: error['lines'] } : {};
    const allowed = 'expected cells as CSV writes them: quotes doubled within quotes, and closed';
    problems.push({ file, ...line, path: '', found: 'a quote out of place', allowed });
    return null;
  }
  // A line without anything, or the row of bare delimiters that sheets put below the last one.
  const filled = withFirstLines(parsed).filter(({ cells }) => cells.some((cell) => cell !== ''));
  const [header, ...body] = filled;
  if (header === undefined) {
    problems.push({ file, path: '', found: 'nothing', allowed: 'expected a header and rows' });
    return null;
  }
  const rows: CsvRow[] = [];
  for (const row of body) {
    if (row.cells.length === header.cells.length) rows.push(row);
    else {
      const found = `${row.cells.length} ${row.cells.length === 1 ? 'cell' : 'cells'}`;
      const allowed = `expected ${header.cells.length}, as many as the header`;
      problems.push({ file, line: row.line, path: '', found, allowed });
    }
  }
  return { headerLine: header.line, headers: header.cells, rows };
}

/** The parser tells the line on which a row ends; a quoted cell may run over several. */
function withFirstLines(parsed: readonly ParsedRow[]): CsvRow[] {
  return parsed.map(({ info, record }) => {
    const breaks = record.reduce((sum, cell) => sum + (cell.match(/\r\n|\r|\n/g)?.length ?? 0), 0);
    return { line: info.lines - breaks, cells: record };
  });
}

/** A cell for a message. */
export function cellText(cell: string): string {
  return cell === '' ? 'a blank cell' : valueText(cell);
}
