import { printable } from './words.js';

/** A column of a text table. */
export interface GridColumn {
  readonly title: readonly string[];
  readonly align: 'left' | 'right';
  readonly width: number;
}

/**
 * A text table of fixed widths; a cell that is too long is cut with an ellipsis.
 *
 * @param columns columns from left to right.
 * @param rows cells, one list per row.
 * @returns lines without trailing blanks.
 */
export function grid(columns: readonly GridColumn[], rows: readonly (readonly string[])[]): string {
  const cell = (text: string, { align, width }: GridColumn): string => {
    const plain = printable(text);
    const cut = plain.length > width ? `${plain.slice(0, width - 3)}...` : plain;
    return align === 'left' ? cut.padEnd(width) : cut.padStart(width);
  };
  const line = (cells: readonly string[]): string =>
    columns
      .map((column, index) => cell(cells[index] ?? '', column))
      .join('  ')
      .trimEnd();
  const depth = Math.max(...columns.map(({ title }) => title.length));
  const head = Array.from({ length: depth }, (_, k) =>
    line(columns.map(({ title }) => title[k - depth + title.length] ?? '')),
  );
  const rule = '-'.repeat(columns.reduce((sum, { width }) => sum + width, 2 * (columns.length - 1)));
  return [...head, rule, ...rows.map(line)].join('\n');
}
