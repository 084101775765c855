/** Who comes out best, row by row. */

/** Best figures of the rows, and how often each set-up has it. */
export interface Winners {
  /** Best figure of each row. */
  readonly best: Float64Array;
  /** Share of rows in which each set-up is best; a tie counts in equal parts, so the shares add to 1. */
  readonly shares: readonly number[];
}

/**
 * Finds the best of several figures in every row.
 *
 * @param columns figures, one column per set-up; more is better.
 * @param tolerance figures this close to the best tie with it.
 */
export function winnersOf(columns: readonly Float64Array[], tolerance = 0): Winners {
  const rows = columns[0]!.length;
  const best = Float64Array.from(columns[0]!);
  for (const column of columns) {
    for (let row = 0; row < rows; row++) if (column[row]! > best[row]!) best[row] = column[row]!;
  }
  const wins = new Float64Array(columns.length);
  for (let row = 0; row < rows; row++) {
    const least = best[row]! - tolerance;
    let tied = 0;
    for (const column of columns) if (column[row]! >= least) tied++;
    for (let k = 0; k < wins.length; k++) if (columns[k]![row]! >= least) wins[k]! += 1 / tied;
  }
  return { best, shares: Array.from(wins, (won) => won / rows) };
}

/**
 * Tells copies apart: set-ups whose figures are the same in every row.
 *
 * @param same whether two set-ups have equal figures throughout.
 * @param count number of set-ups.
 * @returns for each set-up, the first one that it equals.
 */
export function firstEquals(count: number, same: (a: number, b: number) => boolean): number[] {
  const first: number[] = [];
  for (let k = 0; k < count; k++) {
    const copy = first.findIndex((original, index) => original === index && same(index, k));
    first.push(copy < 0 ? k : copy);
  }
  return first;
}

/** True for two columns with the same figures. */
export function equalColumns(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((value, row) => value === b[row]);
}
