/**
 * A part of many rows, spread evenly: every second, third, ... row in an order, so that what is drawn looks like the whole.
 *
 * @param rows in any order.
 * @param most most rows to keep, 1 or more.
 * @param order text by which rows are put in order first: rows of like keys are thinned alike.
 * @returns the rows kept, in that order, and which of how many: 1 for all.
 */
export function thinned<Row>(
  rows: readonly Row[],
  most: number,
  order: (row: Row) => readonly (string | number)[],
): { readonly kept: readonly Row[]; readonly every: number } {
  const every = Math.max(1, Math.ceil(rows.length / most));
  const keyed = rows.map((row) => ({ row, key: order(row) }));
  keyed.sort((one, other) => compareKeys(one.key, other.key));
  return { kept: keyed.filter((_, at) => at % every === 0).map(({ row }) => row), every };
}

function compareKeys(one: readonly (string | number)[], other: readonly (string | number)[]): number {
  for (let k = 0; k < one.length; k++) {
    if (one[k]! < other[k]!) return -1;
    if (one[k]! > other[k]!) return 1;
  }
  return 0;
}

/**
 * Says that not all is drawn.
 *
 * @param every which of how many rows are drawn.
 * @param by how they were put in order, in words.
 * @returns a sentence, none where all are drawn.
 */
export function thinningText(every: number, by: string): string[] {
  if (every <= 1) return [];
  const which = every === 2 ? 'second' : every === 3 ? 'third' : `${every}th`;
  return [`Drawn: every ${which} of them, in order of ${by}. Figures count all.`];
}
