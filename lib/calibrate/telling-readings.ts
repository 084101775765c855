import type { FittedReading } from './posterior-types.js';

/** Smallest range of a tire of which nothing is known, as a share of the deepest groove read in the log. */
const OPEN_SHARE = 0.5;

/**
 * Readings without those of tires of which nothing else was known, as they were taken up part-worn: their ranges hold any
 * groove, whatever the fit is worth. Such a tire shows in the range of its first reading, which is wider than any groove
 * read on it.
 *
 * @param readings of a fit, fitted and held out.
 * @returns the others, or all where no other is left, and how many were left out.
 */
export function withoutVacuous(readings: readonly FittedReading[]): {
  readonly readings: readonly FittedReading[];
  readonly left: number;
} {
  const deepest = new Map<string, number>();
  const first = new Map<string, FittedReading>();
  let most = 0;
  for (const reading of readings) {
    const { tire, grooveM, landings } = reading;
    most = Math.max(most, grooveM);
    deepest.set(tire, Math.max(grooveM, deepest.get(tire) ?? 0));
    const before = first.get(tire);
    if (before === undefined || landings < before.landings) first.set(tire, reading);
  }
  const telling = readings.filter(({ tire }) => {
    const { highM, lowM, expectedM } = first.get(tire)!;
    const half = Math.max(highM, lowM) - expectedM;
    return half < Math.max(deepest.get(tire)!, expectedM, OPEN_SHARE * most);
  });
  return telling.length === 0
    ? { readings, left: 0 }
    : { readings: telling, left: readings.length - telling.length };
}

/** What {@link withoutVacuous} leaves out, in a sentence; nothing where nothing is. */
export function vacuousText(left: number): string[] {
  if (left === 0) return [];
  return [
    `${left} ${left === 1 ? 'reading' : 'readings'} left out: of tires taken up part-worn, of which nothing else was known, any groove was possible.`,
  ];
}
