import { kaplanMeier, type KaplanMeierCurve } from '../estimate/kaplan-meier.js';
import { quantileOfSorted } from './posterior-summary.js';
import type { ExpectedCount, OverlayBand } from './survival-overlay-types.js';

/** Tires under watch: entry, last landing seen, and whether it ended there. */
export interface WatchedLives {
  readonly entry: readonly number[];
  readonly time: readonly number[];
  readonly ended: readonly boolean[];
}

/** Kaplan-Meier curve of tires; null where none is under watch. */
export function curveOf({ entry, time, ended }: WatchedLives): KaplanMeierCurve | null {
  if (time.length === 0) return null;
  return kaplanMeier(
    Float64Array.from(time),
    Uint8Array.from(ended, (each) => (each ? 1 : 0)),
    { entry: Float64Array.from(entry) },
  );
}

/**
 * Values of a step curve at landings, NaN beyond the last tire seen.
 *
 * @param curve of some tires.
 * @param column which of its columns.
 * @param start its value before the first end.
 * @param landings ascending.
 */
export function stepsAt(
  curve: KaplanMeierCurve | null,
  column: 'survival' | 'lower' | 'upper',
  start: number,
  landings: readonly number[],
): Float64Array {
  const values = new Float64Array(landings.length).fill(NaN);
  if (curve === null) return values;
  let row = -1;
  landings.forEach((at, k) => {
    while (row + 1 < curve.time.length && curve.time[row + 1]! <= at) row++;
    const survival = row < 0 ? 1 : curve.survival[row]!;
    if (at > curve.lastTime && survival > 0) return;
    values[k] = row < 0 ? start : curve[column][row]!;
  });
  return values;
}

/** Numbers as plain data: NaN as null. */
export function plain(values: ArrayLike<number>): (number | null)[] {
  return Array.from(values, (value) => (Number.isNaN(value) ? null : value));
}

const [LOW, HIGH] = [0.1, 0.9] as const;

/** Band of many curves: the middle eight tenths of those that reach that far, null where fewer than half do. */
export function bandOf(curves: readonly Float64Array[], size: number): OverlayBand {
  const at = (k: number): Float64Array =>
    Float64Array.from(curves, (curve) => curve[k]!)
      .filter((value) => !Number.isNaN(value))
      .sort();
  const sorted = Array.from({ length: size }, (_, k) => at(k));
  const quantile = (probability: number): (number | null)[] =>
    sorted.map((values) =>
      values.length < 0.5 * curves.length ? null : quantileOfSorted(values, probability),
    );
  return { low: quantile(LOW), middle: quantile(0.5), high: quantile(HIGH) };
}

/** Middle eight tenths of counts. */
export function expectedCount(counts: readonly number[]): ExpectedCount {
  const sorted = Float64Array.from(counts).sort();
  const at = (probability: number): number => quantileOfSorted(sorted, probability);
  return { low: at(LOW), middle: at(0.5), high: at(HIGH) };
}
