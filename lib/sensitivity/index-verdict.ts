import type { IndexEstimate, IndexVerdict } from './index-types.js';

/** Rows are asked for in two figures: the number rests on an estimate itself. */
const FIGURES_OF_ROWS = 2;
/** More rows than this are no advice. */
const MOST_ROWS = 1e7;

/**
 * Says what an index tells.
 *
 * The number of rows takes the index for what it seems and lets the interval shrink with their root.
 *
 * @param index of the input.
 * @param smallShare an index below it is small.
 * @param rows of the design, or trials.
 * @param kind which index: a small first-order index does not rule out that the input acts together with others.
 */
export function judgeIndex(
  index: IndexEstimate,
  smallShare: number,
  rows: number,
  kind: 'total' | 'first order' = 'total',
): IndexVerdict {
  const { estimate, lower, upper } = index;
  const unit = kind === 'total' ? 'rows' : 'trials';
  const small = percent(smallShare);
  if (lower > smallShare) {
    return {
      kind: 'matters',
      rowsNeeded: null,
      text:
        kind === 'total'
          ? `Matters: ${percent(lower)} to ${percent(upper)} of the variance would stay if only this were unknown.`
          : `Matters: ${percent(lower)} to ${percent(upper)} of the variance would go if this were known.`,
    };
  }
  if (upper < smallShare) {
    const text =
      upper === 0
        ? `Too small to see: it changed nothing in ${rows} ${unit}.`
        : `Too small to see${kind === 'total' ? '' : ' by itself'}: at most ${percent(upper)} of the variance, below ${small}.`;
    return { kind: 'too small to see', rowsNeeded: null, text };
  }
  const margin = Math.abs(estimate - smallShare);
  const reach = estimate > smallShare ? estimate - lower : upper - estimate;
  const needed = margin > 0 ? rows * (reach / margin) ** 2 : Infinity;
  const rowsNeeded = needed < MOST_ROWS ? roundUp(Math.max(needed, rows + 1)) : null;
  const ask =
    rowsNeeded === null
      ? `it is so near that no number of ${unit} may be enough.`
      : `about ${rowsNeeded} ${unit} would tell (${rows} so far).`;
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
