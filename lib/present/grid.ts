import { printable, startOf, textWidth, wrap } from './words.js';

/** A column of a text table. */
export interface GridColumn {
  readonly title: readonly string[];
  readonly align: 'left' | 'right';
  readonly width: number;
  /** A text that is too long goes on in the next line; otherwise it is cut with an ellipsis. */
  readonly wraps?: boolean;
}

/**
 * A text table of fixed widths.
 *
 * @param columns columns from left to right.
 * @param rows cells, one list per row.
 * @returns lines without trailing blanks.
 */
export function grid(columns: readonly GridColumn[], rows: readonly (readonly string[])[]): string {
  const depth = Math.max(...columns.map(({ title }) => title.length));
  const head = Array.from({ length: depth }, (_, k) =>
    line(
      columns,
      // Titles may hold a label from a file, such as a currency.
      columns.map(({ title, width }) => cut(printable(title[k - depth + title.length] ?? ''), width)),
    ),
  );
  const rule = '-'.repeat(columns.reduce((sum, { width }) => sum + width, 2 * (columns.length - 1)));
  return [...head, rule, ...rows.flatMap((cells) => rowLines(columns, cells))].join('\n');
}

function rowLines(columns: readonly GridColumn[], cells: readonly string[]): string[] {
  const parts = columns.map((column, index) => cellLines(column, printable(cells[index] ?? '')));
  const depth = Math.max(...parts.map((lines) => lines.length));
  return Array.from({ length: depth }, (_, k) =>
    line(
      columns,
      parts.map((lines) => lines[k] ?? ''),
    ),
  );
}

function cellLines({ width, wraps = false }: GridColumn, text: string): string[] {
  return wraps && textWidth(text) > width ? wrap(text, width, '  ').split('\n') : [cut(text, width)];
}

/** A text that fits, with an ellipsis if it had to be cut. */
function cut(text: string, width: number): string {
  return textWidth(text) <= width ? text : `${startOf(text, width - 3)}...`;
}

/** One line of cells that fit. */
function line(columns: readonly GridColumn[], cells: readonly string[]): string {
  return columns
    .map(({ align, width }, index) => {
      const text = cells[index] ?? '';
      const blanks = ' '.repeat(width - textWidth(text));
      return align === 'left' ? text + blanks : blanks + text;
    })
    .join('  ')
    .trimEnd();
}
