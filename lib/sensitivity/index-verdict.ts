import type { IndexEstimate, IndexVerdict } from './index-types.js';

/** Rows are asked for in two figures: the number rests on an estimate itself. */
const FIGURES_OF_ROWS = 2;
/** More rows than this are no advice. */
const MOST_ROWS = 1e7;

/**
 * Says what a total index tells.
 *
 * The number of rows takes the index for what it seems and lets the interval shrink with their root.
 *
 * @param total of the input.
 * @param smallShare an index below it is small.
 * @param rows of the design.
 */
export function judgeIndex(total: IndexEstimate, smallShare: number, rows: number): IndexVerdict {
  const { estimate, lower, upper } = total;
  const small = percent(smallShare);
  if (lower > smallShare) {
    return {
      kind: 'matters',
      rowsNeeded: null,
      text: `Matters: ${percent(lower)} to ${percent(upper)} of the variance would stay if only this were unknown.`,
    };
  }
  if (upper < smallShare) {
    const text =
      upper === 0
        ? `Too small to see: it changed nothing in ${rows} rows.`
        : `Too small to see: at most ${percent(upper)} of the variance, below ${small}.`;
    return { kind: 'too small to see', rowsNeeded: null, text };
  }
  const margin = Math.abs(estimate - smallShare);
  const reach = estimate > smallShare ? estimate - lower : upper - estimate;
  const needed = margin > 0 ? rows * (reach / margin) ** 2 : Infinity;
  const rowsNeeded = needed < MOST_ROWS ? roundUp(Math.max(needed, rows + 1)) : null;
  const ask =
    rowsNeeded === null
      ? 'it is so near that no number of rows may be enough.'
      : `about ${rowsNeeded} rows would tell (${rows} so far).`;
  return {
    kind: 'need more trials',
    rowsNeeded,
    text: `Need more trials: ${percent(lower)} to ${percent(upper)} of the variance holds ${small}; ${ask}`,
  };
}

function roundUp(count: number): number {
  const whole = Math.ceil(count);
  const step = Number(`1e${Math.max(0, String(whole).length - FIGURES_OF_ROWS)}`);
  return Math.ceil(whole / step) * step;
}

function percent(share: number): string {
  const points = 100 * share;
  return `${points < 10 ? Number(points.toPrecision(2)) : Math.round(points)} %`;
}
