import type { Problem } from '../problems.js';
import { READING_ERROR_M } from '../scenario/compile-today.js';
import { formatQuantity } from '../units.js';
import { problemAtRow } from './check-tires.js';
import { dateOfDay } from './dates.js';
import type { KnownNames } from './known-names.js';
import type { ReadingRow } from './read-rows.js';
import type { RecordPlace, TireRecord, TreadReadingRecord } from './record-types.js';

/**
 * Standard errors by which a groove may seem deeper than before. Beyond five, chance alone does it to one pair of
 * readings in 3.5 million (normal errors): it is a slip of the pen, of the band or of the tire.
 */
const GROWTH_ERRORS = 5;
/** Beyond so many a reader should have a look. */
const REMARKED_ERRORS = 2;
/** Chance alone does that to one pair of readings in so many at most (normal errors; wear between makes it rarer). */
export const ONE_PAIR_IN = 44;

/** Variance of a reading, m2: of the gauge and hand, and of rounding to steps (uniform). */
export function readingVariance({ errorM, stepM }: Pick<TreadReadingRecord, 'errorM' | 'stepM'>): number {
  const error = errorM ?? READING_ERROR_M;
  return error * error + ((stepM ?? 0) * (stepM ?? 0)) / 12;
}

const mm = (metres: number): string => formatQuantity(metres, 'length', 'mm', 3);

/** A groove for a message: as it stands in the file, and in mm. */
export function grooveText({ record, written }: ReadingRow): string {
  return written === null ? mm(record.grooveM) : `${JSON.stringify(written)} (${mm(record.grooveM)})`;
}

/** A groove that seems deeper than the one before, by some standard errors of the difference. */
interface Growth {
  readonly before: ReadingRow;
  readonly after: ReadingRow;
  readonly errors: number;
}

/**
 * Treads that grow beyond what gauges do, and grooves deeper than new ones.
 *
 * @param rows readings with what stands in the file.
 * @param tires all tires of the log.
 * @param names names of the scenario, or null.
 * @param problems what is wrong is added here.
 * @returns remarks: on growth that chance does now and then, and on the error that is assumed.
 */
export function checkReadings(
  rows: readonly ReadingRow[],
  tires: readonly TireRecord[],
  names: KnownNames | null,
  problems: Problem[],
): Problem[] {
  const classOf = new Map(tires.map(({ id, tireClass }) => [id, tireClass]));
  const last = new Map<string, ReadingRow>();
  const doubtful: Growth[] = [];
  let pairs = 0;
  const inOrder = [...rows].sort(
    ({ record: one }, { record: other }) => one.day - other.day || one.place.line - other.place.line,
  );
  for (const row of inOrder) {
    const { record: reading } = row;
    const key = JSON.stringify([reading.tire, reading.band]);
    const before = last.get(key);
    last.set(key, row);
    if (before !== undefined && before.record.day < reading.day) {
      pairs++;
      const growth = growthOf(before, row);
      if (growth.errors > GROWTH_ERRORS) problems.push(growthProblem(growth));
      else if (growth.errors > REMARKED_ERRORS) doubtful.push(growth);
    }
    const tireClass = classOf.get(reading.tire);
    if (names === null || tireClass === null || tireClass === undefined) continue;
    const newM = names.newGrooveM(tireClass);
    if (reading.grooveM > newM + GROWTH_ERRORS * Math.sqrt(readingVariance(reading))) {
      const allowed = `a new "${tireClass}" has ${mm(newM)}`;
      problems.push(problemAtRow(reading.place, 'groove', { found: grooveText(row), allowed }));
    }
  }
  return [...remarkOnError(rows), ...remarkOnGrowth(doubtful, pairs)];
}

function errorOfPair(one: TreadReadingRecord, other: TreadReadingRecord): number {
  return Math.sqrt(readingVariance(one) + readingVariance(other));
}

function growthOf(before: ReadingRow, after: ReadingRow): Growth {
  const growthM = after.record.grooveM - before.record.grooveM;
  // Readings said to have no error at all may not grow by anything: the quotient is infinite.
  const errors = growthM <= 0 ? 0 : growthM / errorOfPair(before.record, after.record);
  return { before, after, errors };
}

const readOn = ({ record }: ReadingRow): string => `${dateOfDay(record.day)} (line ${record.place.line})`;

function growthProblem({ before, after }: Growth): Problem {
  const most = before.record.grooveM + GROWTH_ERRORS * errorOfPair(before.record, after.record);
  const assumed = [before, after].some(({ record }) => record.errorM === null)
    ? ` (gauge error assumed: ${mm(READING_ERROR_M)})`
    : '';
  const allowed =
    `expected at most ${mm(most)}${assumed}: ${grooveText(before)} were read on ${readOn(before)}, ` +
    'and tread does not grow';
  return problemAtRow(after.record.place, 'groove', { found: grooveText(after), allowed });
}

/**
 * Growth between two readings without a stated error that is not refused.
 *
 * @param readings of a log; the coarsest step of those without an error counts.
 * @returns "2.8 mm".
 */
export function unseenGrowthText(readings: readonly TreadReadingRecord[]): string {
  const steps = readings.filter(({ errorM }) => errorM === null).map(({ stepM }) => stepM ?? 0);
  const coarsest = steps.reduce((most, step) => Math.max(most, step), 0);
  const unseenM = GROWTH_ERRORS * Math.sqrt(2 * readingVariance({ errorM: null, stepM: coarsest }));
  return formatQuantity(unseenM, 'length', 'mm', 2);
}

/** Which error stands in where none is stated, and what it hides. */
function remarkOnError(rows: readonly ReadingRow[]): Problem[] {
  const without = rows.filter(({ record }) => record.errorM === null).map(({ record }) => record);
  const [first] = without;
  if (first === undefined) return [];
  const found =
    without.length === rows.length
      ? 'gauge error not stated'
      : `gauge error not stated for ${without.length} of ${rows.length} readings`;
  const allowed =
    `${mm(READING_ERROR_M)} is assumed (standard deviation): growth of tread below ${unseenGrowthText(without)} ` +
    'is not seen as a mistake';
  return [problemAtRow(first.place, 'error', { found, allowed })];
}

/** Growth that chance does to some pairs of a long log: the greatest is told, the others by their lines. */
function remarkOnGrowth(doubtful: readonly Growth[], pairs: number): Problem[] {
  if (doubtful.length === 0) return [];
  const [greatest, ...others] = [...doubtful].sort((one, other) => other.errors - one.errors);
  const { before, after, errors } = greatest!;
  const found = `${grooveText(after)} after ${grooveText(before)} on ${readOn(before)}`;
  const more =
    others.length === 0
      ? ''
      : `; so do ${others.length} more of ${pairs} pairs of readings (by chance about ${Math.ceil(pairs / ONE_PAIR_IN)} or fewer), ${linesText(others)}`;
  const allowed = `it seems to grow, by ${errors.toFixed(1)} standard errors: look whether the tire, the spot and the number are right${more}`;
  return [problemAtRow(after.record.place, 'groove', { found, allowed })];
}

/** Lines that are named; the rest are counted with the pairs. */
const LINES_NAMED = 8;

function linesText(growths: readonly Growth[]): string {
  const lines = growths.map(({ after }): RecordPlace => after.record.place).map(({ line }) => line);
  const named = lines.slice(0, LINES_NAMED).sort((one, other) => one - other);
  const most = lines.length > LINES_NAMED ? 'among them lines' : lines.length === 1 ? 'line' : 'lines';
  return `${most} ${named.join(', ')}`;
}
