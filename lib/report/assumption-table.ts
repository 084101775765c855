import type { CompiledScenario } from '../scenario/compile.js';
import { assumptionGroups, type AssumptionRow } from './assumption-rows.js';
import { html, type Html } from './html.js';
import { table, type Column } from './table.js';

const COLUMNS: readonly Column<AssumptionRow>[] = [
  { title: 'What', cell: ({ meaning }) => meaning },
  { title: 'Middle', cell: ({ middle }) => middle, isNumeric: true },
  { title: 'What it may be', cell: ({ range }) => range },
  { title: 'Source', cell: ({ source }) => source },
];

/**
 * The assumptions behind the answer, part by part, folded.
 *
 * @param compiled the scenario of the run.
 */
export function assumptionTables(compiled: CompiledScenario): Html {
  return html`${assumptionGroups(compiled).map(({ title, rows }) => {
    const unsure = rows.filter(({ isFixed }) => !isFixed).length;
    const entries = [...new Set(rows.map(({ entry }) => entry))];
    return html`<details>
      <summary>${title}: ${rows.length} numbers, ${unsure} of them with a range</summary>
      ${entries.map((entry) => {
        const caption = entry === '' ? title : `${title}: ${entry}`;
        return table(
          COLUMNS,
          rows.filter((row) => row.entry === entry),
          { caption },
        );
      })}
    </details> `;
  })}`;
}
