import type { Problem } from '../problems.js';
import { READING_ERROR_M } from '../scenario/compile-today.js';
import { formatQuantity } from '../units.js';
import { problemAtRow } from './check-tires.js';
import { dateOfDay } from './dates.js';
import type { KnownNames } from './known-names.js';
import type { TireRecord, TreadReadingRecord } from './record-types.js';

/**
 * Standard errors by which a groove may seem deeper than before. Beyond five, chance alone does it to one pair of
 * readings in 3.5 million (normal errors): it is a slip of the pen, of the band or of the tire.
 */
const GROWTH_ERRORS = 5;

/** Variance of a reading, m2: of the gauge and hand, and of rounding to steps (uniform). */
function variance({ errorM, stepM }: TreadReadingRecord): number {
  const error = errorM ?? READING_ERROR_M;
  return error * error + ((stepM ?? 0) * (stepM ?? 0)) / 12;
}

const mm = (metres: number): string => formatQuantity(metres, 'length', 'mm', 3);

/** Treads that grow beyond what gauges do, and grooves deeper than new ones. */
export function checkReadings(
  readings: readonly TreadReadingRecord[],
  tires: readonly TireRecord[],
  names: KnownNames | null,
  problems: Problem[],
): void {
  const classOf = new Map(tires.map(({ id, tireClass }) => [id, tireClass]));
  const last = new Map<string, TreadReadingRecord>();
  const inOrder = [...readings].sort(
    (one, other) => one.day - other.day || one.place.line - other.place.line,
  );
  for (const reading of inOrder) {
    const key = JSON.stringify([reading.tire, reading.band]);
    const before = last.get(key);
    last.set(key, reading);
    if (before !== undefined && before.day < reading.day) {
      const slack = GROWTH_ERRORS * Math.sqrt(variance(before) + variance(reading));
      if (reading.grooveM > before.grooveM + slack) {
        const allowed =
          `expected at most ${mm(before.grooveM + slack)}: ${mm(before.grooveM)} were read on ` +
          `${dateOfDay(before.day)} (line ${before.place.line}), and tread does not grow`;
        problems.push(problemAtRow(reading.place, 'groove', { found: mm(reading.grooveM), allowed }));
      }
    }
    const tireClass = classOf.get(reading.tire);
    if (names === null || tireClass === null || tireClass === undefined) continue;
    const newM = names.newGrooveM(tireClass);
    if (reading.grooveM > newM + GROWTH_ERRORS * Math.sqrt(variance(reading))) {
      const allowed = `a new "${tireClass}" has ${mm(newM)}`;
      problems.push(problemAtRow(reading.place, 'groove', { found: mm(reading.grooveM), allowed }));
    }
  }
}
