import { UsageError, wholeNumber } from '../problems.js';
import { estimateIndices, checkedOptions, LEAST_ROWS } from './index-estimates.js';
import type { IndexOptions, VarianceIndices } from './index-types.js';
import { openPoints, type PointSpread } from './sobol-points.js';

/** Inputs that are taken together. */
export interface InputGroup {
  readonly name: string;
  /** Names of its inputs. */
  readonly inputs: readonly string[];
}

/** Options of {@link sobolIndices}. */
export interface SobolOptions extends IndexOptions {
  /** Rows of the design, 16 to 1 048 576, best a power of two; default 1024. */
  readonly rows?: number | undefined;
  /** Seed; default "sensitivity". */
  readonly seed?: string | undefined;
  /** How points are spread; default low-discrepancy. */
  readonly spread?: PointSpread | undefined;
  /** Groups; each input in one at most, those in none stand for themselves. Default: none. */
  readonly groups?: readonly InputGroup[] | undefined;
}

const DEFAULT_ROWS = 1024;
const MOST_ROWS = 1_048_576;
const DEFAULT_SEED = 'sensitivity';

/**
 * Number of rows of a design.
 *
 * @throws UsageError if it is out of range.
 */
export function checkedRows(rows = DEFAULT_ROWS): number {
  return wholeNumber('rows', rows, LEAST_ROWS, MOST_ROWS);
}

/**
 * First-order and total indices of any function of independent inputs.
 *
 * @param inputs names of the inputs, at least one, no two alike.
 * @param value the function; reads one number strictly between 0 and 1 per input, uniform. Turn them into anything else
 *   by quantile functions.
 * @param options rows, seed, groups, level.
 * @returns indices, groups first, then the inputs in no group, in their order.
 * @throws UsageError for options out of range or a function that gives a number that is not finite.
 * Source: see estimateIndices.
 * @example
 * import { ishigami, sobolIndices } from 'gravelbar';
 * const { inputs, value } = ishigami();
 * const indices = sobolIndices(inputs, value, { rows: 4096, seed: 'readme' });
 * indices.inputs.map(({ input, verdict }) => `${input} ${verdict.kind}`); // => ['x1 matters', 'x2 matters', 'x3 matters']
 */
export function sobolIndices(
  inputs: readonly string[],
  value: (point: ArrayLike<number>) => number,
  options: SobolOptions = {},
): VarianceIndices {
  checkedOptions(options);
  const rows = checkedRows(options.rows);
  const seed = options.seed ?? DEFAULT_SEED;
  const units = groupInputs(inputs, options.groups ?? []);
  const count = inputs.length;
  const points = openPoints(options.spread ?? 'low-discrepancy', 2 * count, seed);
  const evaluate = (point: Float64Array): number => {
    const result = value(point);
    if (Number.isFinite(result)) return result;
    throw new UsageError(
      `the function gives ${result} at ${Array.from(point).join(', ')}; it must be finite`,
    );
  };
  const both = new Float64Array(2 * count);
  const mixedPoint = new Float64Array(count);
  const a = new Float64Array(rows);
  const b = new Float64Array(rows);
  const mixed = units.map(() => new Float64Array(rows));
  for (let row = 0; row < rows; row++) {
    points.next(both);
    const pointA = both.subarray(0, count);
    const pointB = both.subarray(count);
    a[row] = evaluate(pointA);
    b[row] = evaluate(pointB);
    units.forEach(({ members }, unit) => {
      mixedPoint.set(pointA);
      for (const index of members) mixedPoint[index] = pointB[index]!;
      mixed[unit]![row] = evaluate(mixedPoint);
    });
  }
  return estimateIndices(
    { a, b, mixed },
    units.map(({ name }) => name),
    seed,
    options,
  );
}

/** A group or single input, by the places of its inputs. */
export interface InputUnit {
  readonly name: string;
  readonly members: readonly number[];
}

/**
 * Groups by place, then the inputs in no group.
 *
 * @throws UsageError for names that do not exist, come twice, or empty groups.
 */
export function groupInputs(inputs: readonly string[], groups: readonly InputGroup[]): InputUnit[] {
  const places = new Map(inputs.map((name, index) => [name, index]));
  if (inputs.length === 0 || places.size < inputs.length) {
    throw new UsageError(`inputs need names that differ, at least one; found: ${inputs.join(', ')}`);
  }
  const owner = new Map<number, string>();
  const units = groups.map(({ name, inputs: own }) => {
    if (own.length === 0) throw new UsageError(`the group "${name}" has no inputs`);
    const members = own.map((input) => {
      const index = places.get(input);
      if (index === undefined)
        throw new UsageError(`the group "${name}" names "${input}", which is no input`);
      if (owner.has(index)) {
        throw new UsageError(
          `"${input}" is in the groups "${owner.get(index)!}" and "${name}"; one is allowed`,
        );
      }
      owner.set(index, name);
      return index;
    });
    return { name, members };
  });
  const alone = inputs.flatMap((name, index) => (owner.has(index) ? [] : [{ name, members: [index] }]));
  const all = [...units, ...alone];
  const twice = all.find(({ name }, index) => all.findIndex((other) => other.name === name) < index);
  if (twice !== undefined) throw new UsageError(`"${twice.name}" names two groups or inputs`);
  return all;
}
