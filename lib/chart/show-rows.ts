import { grid } from '../present/grid.js';
import { figureText, printable, textWidth } from '../present/words.js';
import { UsageError } from '../problems.js';
import { openDisplay } from './kernel.js';

/** A value in a table. */
type Cell = string | number | boolean | null | undefined;

/** Most rows that a table shows; the others are counted below it. */
const MOST_ROWS = 100;
/** Widest column of the table in text, characters. */
const MOST_WIDTH = 40;

/**
 * Shows rows as a table below the cell of a notebook, as one output in two forms: HTML, and text where there is only
 * text. Whole numbers are shown whole, others with about three figures; what is missing stays empty.
 *
 * @param rows plain objects, whose names are the columns, in the order in which they first appear; the first 100 rows
 *   are shown and the others counted.
 * @throws UsageError outside a notebook with the TypeScript kernel, and if there are no rows.
 */
export function showRows(rows: readonly Readonly<Record<string, Cell>>[]): void {
  const display = openDisplay('showRows', 'use console.table');
  const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  if (columns.length === 0)
    throw new UsageError('showRows was given no rows: pass at least one, with a field');
  const shown = rows.slice(0, MOST_ROWS);
  const more = rows.length > MOST_ROWS ? `${rows.length - MOST_ROWS} more rows` : '';
  const table = columns.map((name) => {
    const values = shown.map((row) => row[name]);
    return { name, isNumeric: values.every(isNumeric), texts: values.map(cellText) };
  });
  display({ data: { 'text/html': tableHtml(table, more), 'text/plain': tableText(table, more) } });
}

interface Column {
  readonly name: string;
  readonly isNumeric: boolean;
  readonly texts: readonly string[];
}

function isNumeric(value: Cell): boolean {
  return value === undefined || value === null || typeof value === 'number';
}

function cellText(value: Cell): string {
  if (value === undefined || value === null) return '';
  if (typeof value !== 'number' || Number.isInteger(value)) return String(value);
  return figureText(value);
}

function rowsOf(columns: readonly Column[]): string[][] {
  return (columns[0]?.texts ?? []).map((_, row) => columns.map(({ texts }) => texts[row]!));
}

function tableHtml(columns: readonly Column[], more: string): string {
  const cell = (tag: string, { isNumeric }: Column, text: string): string =>
    `<${tag} style="text-align: ${isNumeric ? 'right' : 'left'}">${escaped(text)}</${tag}>`;
  const head = columns.map((column) => cell('th', column, column.name)).join('');
  const body = rowsOf(columns).map(
    (texts) => `<tr>${columns.map((column, index) => cell('td', column, texts[index]!)).join('')}</tr>`,
  );
  const foot = more === '' ? '' : `\n<p>${more}</p>`;
  return `<table>\n<thead><tr>${head}</tr></thead>\n<tbody>\n${body.join('\n')}\n</tbody>\n</table>${foot}`;
}

function escaped(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

function tableText(columns: readonly Column[], more: string): string {
  const layout = columns.map(({ name, isNumeric, texts }) => ({
    title: [printable(name)],
    align: isNumeric ? ('right' as const) : ('left' as const),
    width: Math.max(
      textWidth(printable(name)),
      ...texts.map((text) => Math.min(MOST_WIDTH, textWidth(printable(text)))),
    ),
  }));
  const text = grid(layout, rowsOf(columns));
  return more === '' ? text : `${text}\n${more}`;
}
