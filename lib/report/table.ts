import { html, type Html, type HtmlPart } from './html.js';

/** A column of a table of the page. */
export interface Column<Row> {
  readonly title: HtmlPart;
  readonly cell: (row: Row) => HtmlPart;
  /** Figures stand at the right. */
  readonly isNumeric?: boolean;
}

/** How a table looks beyond its columns. */
export interface TableOptions<Row> {
  readonly caption: string;
  /** Rows to mark. */
  readonly leads?: (row: Row) => boolean;
}

/**
 * A table whose first column names its rows. It moves sideways inside its own frame where it is wider than the page.
 *
 * @param columns from left to right.
 * @param rows from top to bottom.
 * @param options caption and marked rows.
 */
export function table<Row>(
  columns: readonly Column<Row>[],
  rows: readonly Row[],
  { caption, leads = () => false }: TableOptions<Row>,
): Html {
  const heads = columns.map(
    ({ title, isNumeric }) => html`<th scope="col" ${numberClass(isNumeric)}>${title}</th>`,
  );
  const lines = rows.map((row) => {
    const cells = columns.map(({ cell, isNumeric }, index) =>
      index === 0
        ? html`<th scope="row">${cell(row)}</th>`
        : html`<td${numberClass(isNumeric)}>${cell(row)}</td>`,
    );
    return html`<tr${leads(row) ? html` class="leads"` : ''}>${cells}</tr>
`;
  });
  return html`<div class="scroll" tabindex="0" role="region" aria-label="${caption}">
    <table>
      <caption>
        ${caption}
      </caption>
      <thead>
        <tr>
          ${heads}
        </tr>
      </thead>
      <tbody>
        ${lines}
      </tbody>
    </table>
  </div>`;
}

function numberClass(isNumeric = false): HtmlPart {
  return isNumeric ? html` class="number"` : '';
}
