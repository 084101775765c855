/** The life curve without any law, where ends are known only to lie in ranges: Turnbull's estimate. */
import { lifeColumns, type CensoredLife, type LifeColumns } from './censored-lives.js';

/** A stretch of time that holds a share of all ends; where in it they lie the data do not tell. */
export interface TurnbullStretch {
  /** Ends lie above this, or at it where it equals `to`. */
  readonly from: number;
  /** Ends lie at or below this; Infinity for lives that none is known to have reached the end of. */
  readonly to: number;
  /** Share of all lives that end in the stretch, in (0, 1]. */
  readonly share: number;
  /** Share of lives longer than the stretch. */
  readonly survival: number;
}

/** Turnbull's estimate of a life curve. */
export interface TurnbullCurve {
  /** Stretches with a share above nothing, in order of time. */
  readonly stretches: readonly TurnbullStretch[];
  readonly logLikelihood: number;
  readonly lives: number;
  /**
   * How far the estimate may be from the greatest likelihood, in log-likelihood: an upper bound by the gradient (Gentleman
   * and Geyer 1994), exact for the concave likelihood without delayed entry.
   */
  readonly gap: number;
}

interface Cell {
  readonly from: number;
  readonly to: number;
}

/** Log-likelihood that may be missing from the answer. */
const SMALL_GAP = 1e-9;
const MOST_ROUNDS = 50_000;
/** A share below this is none. */
const NO_SHARE = 1e-10;

/**
 * Innermost ranges between a place where a life may begin to end and the next where one must have ended: only there can
 * the greatest likelihood put ends (Peto 1973; Turnbull 1976). An entry is a place of the second kind (Frydman 1994).
 */
function innermost({ from, to, entry }: LifeColumns): Cell[] {
  interface Mark {
    readonly at: number;
    /** Order at one time: an exact end begins just before it; ranges are open on the left. */
    readonly rank: 0 | 1 | 2;
    readonly begins: boolean;
  }
  const marks: Mark[] = [];
  for (let i = 0; i < from.length; i++) {
    const exact = from[i] === to[i];
    marks.push({ at: from[i]!, rank: exact ? 0 : 2, begins: true });
    marks.push({ at: to[i]!, rank: 1, begins: false });
    if (entry[i]! > 0) marks.push({ at: entry[i]!, rank: 1, begins: false });
  }
  marks.sort((one, other) => (one.at < other.at ? -1 : one.at > other.at ? 1 : one.rank - other.rank));
  const cells: Cell[] = [];
  let open: number | null = null;
  for (const { at, begins } of marks) {
    if (begins) open = at;
    else if (open !== null) {
      cells.push({ from: open, to: at });
      open = null;
    }
  }
  return cells;
}

/** First and last cell that a life may have ended in, and first cell in which it would have been seen. */
function reach({ from, to, entry }: LifeColumns, cells: readonly Cell[]): Int32Array[] {
  const rows = from.length;
  const first = new Int32Array(rows);
  const last = new Int32Array(rows);
  const seen = new Int32Array(rows);
  for (let i = 0; i < rows; i++) {
    const exact = from[i] === to[i];
    first[i] = cells.findIndex((cell) =>
      exact ? cell.from >= from[i]! : cell.from >= from[i]! && cell.to > from[i]!,
    );
    last[i] = cells.findLastIndex((cell) => cell.to <= to[i]!);
    seen[i] = cells.findIndex((cell) => cell.to > entry[i]!);
  }
  return [first, last, seen];
}

/**
 * Turnbull's estimate of the life curve: the law of lives, of whatever form, under which the data are likeliest.
 *
 * With exact and right-censored lives alone it is the Kaplan-Meier curve (with delayed entry, that of the lives under
 * watch). It comes without a band: for ranges, no simple standard error holds.
 *
 * @param lives with any censoring and delayed entry.
 * @returns shares of ends by stretch of time. Throws RangeError for no lives or one that cannot be.
 * Source: Turnbull, "The empirical distribution function with arbitrarily grouped, censored and truncated data",
 * J. R. Stat. Soc. B 38:290-295, 1976 (from memory; values checked against R survival). Delayed entry can leave the first
 * ends with nobody else under watch: the curve then falls to 0 there, as the likelihood says.
 * @example
 * import { turnbull } from 'gravelbar';
 * const curve = turnbull([{ from: 0, to: 2 }, { from: 1, to: 3 }, { from: 2, to: Infinity }]);
 * curve.stretches.map(({ from, to }) => [from, to]); // => [[1, 2], [2, 3]]
 */
export function turnbull(lives: readonly CensoredLife[]): TurnbullCurve {
  const data = lifeColumns(lives);
  const cells = innermost(data);
  const [first, last, seen] = reach(data, cells) as [Int32Array, Int32Array, Int32Array];
  const count = data.count;
  const shares = new Float64Array(cells.length).fill(1 / cells.length);
  const sums = new Float64Array(cells.length + 1);
  const weights = new Float64Array(cells.length + 1);
  let gap = Infinity;
  for (let round = 0; round < MOST_ROUNDS && gap > SMALL_GAP; round++) {
    for (let j = 0; j < cells.length; j++) sums[j + 1] = sums[j]! + shares[j]!;
    // What each cell gets per unit of its share: differences of a running sum over lives.
    weights.fill(0);
    let ghosts = 0;
    for (let i = 0; i < count.length; i++) {
      const own = count[i]! / (sums[last[i]! + 1]! - sums[first[i]!]!);
      weights[first[i]!]! += own;
      weights[last[i]! + 1]! -= own;
      if (seen[i]! > 0) {
        // For each life seen, those like it that ended before they could be seen.
        const unseen = count[i]! / (sums[cells.length]! - sums[seen[i]!]!);
        weights[0]! += unseen;
        weights[seen[i]!]! -= unseen;
        ghosts += unseen * sums[seen[i]!]!;
      }
    }
    const total = data.lives + ghosts;
    let running = 0;
    let steepest = 0;
    for (let j = 0; j < cells.length; j++) {
      running += weights[j]!;
      steepest = Math.max(steepest, running - total);
      shares[j]! *= running / total;
    }
    gap = steepest;
  }
  return { ...describeCurve(data, cells, shares, [first, last, seen]), lives: data.lives, gap };
}

function describeCurve(
  { count }: LifeColumns,
  cells: readonly Cell[],
  shares: Float64Array,
  [first, last, seen]: readonly [Int32Array, Int32Array, Int32Array],
): Pick<TurnbullCurve, 'stretches' | 'logLikelihood'> {
  const sums = new Float64Array(cells.length + 1);
  for (let j = 0; j < cells.length; j++) sums[j + 1] = sums[j]! + shares[j]!;
  const whole = sums[cells.length]!;
  let logLikelihood = 0;
  for (let i = 0; i < count.length; i++) {
    const own = sums[last[i]! + 1]! - sums[first[i]!]!;
    logLikelihood += count[i]! * Math.log(own / (whole - sums[seen[i]!]!));
  }
  const stretches = cells.flatMap((cell, j): TurnbullStretch[] =>
    shares[j]! / whole > NO_SHARE
      ? [{ ...cell, share: shares[j]! / whole, survival: Math.max(0, 1 - sums[j + 1]! / whole) }]
      : [],
  );
  return { stretches, logLikelihood };
}
