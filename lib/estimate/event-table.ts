/** Lives and how they ended, counted at each time something ended: what every survival estimate starts from. */

/** Counts at the distinct times at which at least one trial ended. */
export interface EventTable {
  /** Distinct end times, ascending, in the unit of the lives. */
  readonly time: Float64Array;
  /** Trials still running just before each time; a trial censored at that very time counts as running. */
  readonly atRisk: Int32Array;
  /** Trials that ended at each time, whatever the cause. */
  readonly ended: Int32Array;
  /** Trials that ended at each time, one column per code in `causes`. */
  readonly endedByCause: readonly Int32Array[];
  readonly causes: readonly number[];
  readonly trials: number;
  /** Longest life observed, ended or censored. */
  readonly lastTime: number;
  /** Trials whose life is `lastTime`. */
  readonly lastAtRisk: number;
}

function requireLives(times: ArrayLike<number>, codes: ArrayLike<number>): void {
  if (times.length === 0) throw new RangeError('times must hold at least one life');
  if (times.length !== codes.length) {
    throw new RangeError(
      `times and end codes must be equally long; found ${times.length} and ${codes.length}`,
    );
  }
}

/** Lookup from a life to its place among the distinct lives; whole-number lives are their own place. */
function places(times: ArrayLike<number>): { lives: Float64Array | null; count: number } {
  let longest = 0;
  let whole = true;
  for (let i = 0; i < times.length; i += 1) {
    const time = times[i]!;
    if (!(time >= 0 && time < Infinity)) {
      throw new RangeError(`times[${i}] must be a finite number of 0 or more; found ${time}`);
    }
    if (time > longest) longest = time;
    if (whole && !Number.isInteger(time)) whole = false;
  }
  // Counting by the life itself costs memory in proportion to the longest one, so it must not be far longer
  // than the column.
  if (whole && longest <= 4 * times.length + 65_536) return { lives: null, count: longest + 1 };
  const sorted = Float64Array.from(times).sort();
  let count = 1;
  for (let i = 1; i < sorted.length; i += 1) {
    if (sorted[i] !== sorted[i - 1]) sorted[count++] = sorted[i]!;
  }
  return { lives: sorted.slice(0, count), count };
}

/** Index of the last entry of an ascending column that is at or below `time`; -1 when there is none. */
export function lastRowAtOrBefore(ascending: ArrayLike<number>, time: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (ascending[middle]! <= time) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/**
 * Counts lives by end time and cause. `codes` holds 0 for a censored life and a positive cause otherwise;
 * `causes` names codes to keep a column for even when none ended that way (the others are added, ascending).
 *
 * O(n) for whole-number lives (landings), O(n log n) otherwise.
 * Throws RangeError for unequal lengths, no lives, a life below 0 or not finite, or a code outside 0...127.
 */
export function eventTable(
  times: ArrayLike<number>,
  codes: ArrayLike<number>,
  causes: readonly number[] = [],
): EventTable {
  requireLives(times, codes);
  const { lives, count } = places(times);
  const columnOf = new Int16Array(128).fill(-1);
  const known: number[] = [];
  for (const cause of causes) {
    if (!(Number.isInteger(cause) && cause >= 1 && cause <= 127)) {
      throw new RangeError(`causes must be whole numbers from 1 to 127; found ${cause}`);
    }
    if (!known.includes(cause)) known.push(cause);
  }
  for (let i = 0; i < codes.length; i += 1) {
    const code = codes[i]!;
    if (!(Number.isInteger(code) && code >= 0 && code <= 127)) {
      throw new RangeError(`end code ${i} must be a whole number from 0 to 127; found ${code}`);
    }
    if (code > 0) columnOf[code] = 0;
  }
  for (let code = 1; code < 128; code += 1) {
    if (columnOf[code] === 0 && !known.includes(code)) known.push(code);
  }
  known.sort((a, b) => a - b).forEach((cause, column) => (columnOf[cause] = column));

  const leaving = new Int32Array(count);
  const ending = known.map(() => new Int32Array(count));
  const endingAtAll = new Int32Array(count);
  for (let i = 0; i < times.length; i += 1) {
    const place = lives === null ? times[i]! : lastRowAtOrBefore(lives, times[i]!);
    leaving[place]! += 1;
    const code = codes[i]!;
    if (code > 0) {
      endingAtAll[place]! += 1;
      ending[columnOf[code]!]![place]! += 1;
    }
  }

  let rows = 0;
  for (let place = 0; place < count; place += 1) if (endingAtAll[place]! > 0) rows += 1;
  const time = new Float64Array(rows);
  const atRisk = new Int32Array(rows);
  const ended = new Int32Array(rows);
  const endedByCause = known.map(() => new Int32Array(rows));
  let running = times.length;
  let row = 0;
  for (let place = 0; place < count; place += 1) {
    if (endingAtAll[place]! > 0) {
      time[row] = lives === null ? place : lives[place]!;
      atRisk[row] = running;
      ended[row] = endingAtAll[place]!;
      for (let column = 0; column < known.length; column += 1) {
        endedByCause[column]![row] = ending[column]![place]!;
      }
      row += 1;
    }
    running -= leaving[place]!;
  }
  return {
    time,
    atRisk,
    ended,
    endedByCause,
    causes: known,
    trials: times.length,
    lastTime: lives === null ? count - 1 : lives[count - 1]!,
    lastAtRisk: leaving[count - 1]!,
  };
}

/**
 * Takes those out of the trials at risk that had not come under watch before a time.
 *
 * Throws RangeError for an entry that is not below its life.
 */
export function takeLateEntries(
  { time, atRisk }: EventTable,
  times: Float64Array | Int32Array,
  entry: Float64Array | Int32Array,
): void {
  if (entry.length !== times.length) {
    throw new RangeError(`entry must be as long as times (${times.length}); found ${entry.length}`);
  }
  entry.forEach((at: number, i: number) => {
    if (!(at >= 0 && at < times[i]!)) {
      throw new RangeError(`entry[${i}] must lie in [0, ${times[i]!}); found ${at}`);
    }
  });
  const entered = Float64Array.from(entry).sort();
  for (let row = 0; row < time.length; row += 1) {
    // One that comes under watch just when another ends is not at risk of ending then.
    let low = 0;
    let high = entered.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (entered[middle]! < time[row]!) low = middle + 1;
      else high = middle;
    }
    atRisk[row]! -= entered.length - low;
  }
}
