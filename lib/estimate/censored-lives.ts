/** Lives of which some are known only to lie in a range: what parametric fits and the Turnbull estimate start from. */

/** A life, or several alike, known to lie above `from` and at or below `to`. */
export interface CensoredLife {
  /** The life is above this, >= 0. Equal to `to` where it is known exactly. */
  readonly from: number;
  /** The life is at most this; Infinity where it had not ended (right-censored). With `from` 0: left-censored. */
  readonly to: number;
  /** It would not have been seen at all had it ended by then (left truncation, delayed entry); default 0: from new. */
  readonly entry?: number | undefined;
  /** Lives alike, a whole number >= 1; default 1. */
  readonly count?: number | undefined;
}

/** Lives as columns, alike ones put together, in an order that does not depend on that of the rows. */
export interface LifeColumns {
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly entry: Float64Array;
  readonly count: Float64Array;
  /** Sum of counts. */
  readonly lives: number;
  /** Lives that ended, exactly known or not. */
  readonly ends: number;
  /** Distinct places in time of those ends. */
  readonly distinctEnds: number;
}

function requireLife({ from, to, entry = 0, count = 1 }: CensoredLife, index: number): void {
  const tell = (what: string): never => {
    throw new RangeError(`lives[${index}] ${what}`);
  };
  if (!(from >= 0 && from < Infinity)) tell(`from must be a finite number of 0 or more; found ${from}`);
  if (!(to >= from && to > 0)) tell(`to must be above 0 and not below from (${from}); found ${to}`);
  if (!(entry >= 0 && entry < to)) tell(`entry must lie in [0, to = ${to}); found ${entry}`);
  if (!(Number.isInteger(count) && count >= 1))
    tell(`count must be a whole number of 1 or more; found ${count}`);
}

/**
 * Checks lives and puts those together that are alike.
 *
 * @throws RangeError for no lives, or one that cannot be.
 */
export function lifeColumns(lives: readonly CensoredLife[]): LifeColumns {
  if (lives.length === 0) throw new RangeError('lives must hold at least one life');
  lives.forEach(requireLife);
  const rows = lives
    // What is said about times before the entry says nothing: only lives longer than that are seen.
    .map(({ from, to, entry = 0, count = 1 }) => ({ from: Math.max(from, entry), to, entry, count }))
    .sort((one, other) => one.from - other.from || compare(one.to, other.to) || one.entry - other.entry);
  const joined: { from: number; to: number; entry: number; count: number }[] = [];
  for (const row of rows) {
    const last = joined.at(-1);
    if (last?.from === row.from && last.to === row.to && last.entry === row.entry) last.count += row.count;
    else joined.push({ ...row });
  }
  const ended = joined.filter(({ to }) => to < Infinity);
  return {
    from: Float64Array.from(joined, ({ from }) => from),
    to: Float64Array.from(joined, ({ to }) => to),
    entry: Float64Array.from(joined, ({ entry }) => entry),
    count: Float64Array.from(joined, ({ count }) => count),
    lives: joined.reduce((sum, { count }) => sum + count, 0),
    ends: ended.reduce((sum, { count }) => sum + count, 0),
    distinctEnds: new Set(ended.map(({ from, to }) => `${from} ${to}`)).size,
  };
}

/** Order of two numbers of which both may be infinite. */
function compare(one: number, other: number): number {
  return one < other ? -1 : one > other ? 1 : 0;
}
