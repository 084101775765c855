import { describe, expect, test } from 'vitest';
import { chiSquareQuantile } from '../../lib/numeric/special.js';
import { estimateIndices } from '../../lib/sensitivity/index-estimates.js';
import { ishigami, sobolG, tireLife, type KnownFunction } from '../../lib/sensitivity/known-functions.js';
import { sobolIndices } from '../../lib/sensitivity/sobol-indices.js';
import { openPoints, type PointSpread } from '../../lib/sensitivity/sobol-points.js';

// Exact indices: closed forms, checked in yardsticks.test.ts against those that OpenTURNS and SALib state.
const SEEDS = 100;
const G = sobolG([0, 1, 4.5, 9]);

interface Errors {
  /** Root mean square error over the seeds, per input. */
  readonly firstOrder: readonly number[];
  readonly total: readonly number[];
  /** Shares of seeds whose 95 % interval holds the exact index: all first-order ones, then all totals. */
  readonly held: readonly number[];
}

function errorsOf(known: KnownFunction, rows: number, spread: PointSpread): Errors {
  const count = known.inputs.length;
  const squares = new Float64Array(2 * count);
  const held = new Float64Array(2 * count);
  for (let seed = 0; seed < SEEDS; seed++) {
    const options = { rows, spread, seed: `errors ${seed}`, resamples: 200 };
    sobolIndices(known.inputs, known.value, options).inputs.forEach(({ firstOrder, total }, k) => {
      [firstOrder, total].forEach(({ unclipped, lower, upper }, kind) => {
        const truth = (kind === 0 ? known.firstOrder : known.total)[k]!;
        squares[kind * count + k]! += (unclipped - truth) ** 2 / SEEDS;
        if (lower <= truth && truth <= upper) held[kind * count + k]! += 1 / SEEDS;
      });
    });
  }
  const roots = Array.from(squares, Math.sqrt);
  return { firstOrder: roots.slice(0, count), total: roots.slice(count), held: [...held] };
}

// Stated errors are root mean square errors met over 400 other seeds, rounded up. If errors are near normal, those of 100
// seeds are beyond the true ones by more than this factor in 1 of 10 000 (chi squared).
const ABOVE_STATED = Math.sqrt(chiSquareQuantile(0.9999, SEEDS) / SEEDS);

describe('errors of indices against exact values', () => {
  test.each([
    // 1024 rows: 5120 evaluations for three inputs, 6144 for four.
    ['Ishigami', 1024, ishigami(), [0.015, 0.002, 0.014], [0.002, 0.0011, 0.002]],
    ['G', 1024, G, [0.002, 0.0022, 0.0019, 0.0007], [0.0007, 0.0063, 0.0004, 0.0003]],
    ['Ishigami', 256, ishigami(), [0.029, 0.024, 0.029], [0.027, 0.022, 0.013]],
    ['G', 256, G, [0.007, 0.004, 0.003, 0.0022], [0.0063, 0.011, 0.0027, 0.0004]],
  ] as const)(
    'of %s, %i rows: low-discrepancy points keep to what is stated, below those of chance',
    (_, rows, known, firstOrder, total) => {
      const even = errorsOf(known, rows, 'low-discrepancy');
      even.firstOrder.forEach((error, k) => {
        expect(error).toBeLessThan(firstOrder[k]! * ABOVE_STATED);
      });
      even.total.forEach((error, k) => {
        expect(error).toBeLessThan(total[k]! * ABOVE_STATED);
      });
      // The bootstrap knows nothing of even points: its intervals are wide, and 95 % of them or more hold. Binomial (100,
      // 0.95): fewer than 85 in 1 of 10 000.
      expect(Math.min(...even.held)).toBeGreaterThanOrEqual(0.85);
      const chance = errorsOf(known, rows, 'random');
      // Even points are worth having: less error in all than chance points of the same number.
      const sum = (errors: readonly number[]): number =>
        errors.reduce((all, error) => all + error * error, 0);
      expect(sum(even.total)).toBeLessThan(sum(chance.total));
      expect(sum(even.firstOrder)).toBeLessThan(sum(chance.firstOrder));
    },
  );

  // Random points, 400 seeds, every index of these functions: 95 % intervals held 88 to 96 % of the exact values with 64
  // rows, 90 to 98 % with 256 and more (doc comment of estimateIndices). Here 100 seeds: less 3.7 binomial errors.
  test.each([
    ['Ishigami', 64, ishigami(), 0.88],
    ['G', 64, G, 0.88],
    ['tire life', 64, tireLife(), 0.88],
    ['Ishigami', 512, ishigami(), 0.9],
    ['G', 512, G, 0.9],
    ['tire life', 512, tireLife(), 0.9],
  ] as const)(
    '95 in 100 intervals of %s, %i rows at random, hold as often as stated',
    (_, rows, known, stated) => {
      const { held } = errorsOf(known, rows, 'random');
      expect(Math.min(...held)).toBeGreaterThanOrEqual(
        stated - 3.7 * Math.sqrt((stated * (1 - stated)) / SEEDS),
      );
      const all = held.reduce((sum, share) => sum + share / held.length, 0);
      // Not too wide either: intervals that hold always would tell nothing. Inputs of a seed are not independent, so the
      // error of one of them is granted for their mean.
      expect(all).toBeLessThanOrEqual(0.95 + 3.7 * Math.sqrt((0.95 * 0.05) / SEEDS));
    },
  );
});

describe('columns of a design', () => {
  const { inputs, value } = ishigami();
  const rows = 200;
  const points = openPoints('low-discrepancy', 6, 'columns');
  const both = new Float64Array(6);
  const a = new Float64Array(rows);
  const b = new Float64Array(rows);
  const mixed = inputs.map(() => new Float64Array(rows));
  for (let row = 0; row < rows; row++) {
    points.next(both);
    a[row] = value(both.subarray(0, 3));
    b[row] = value(both.subarray(3));
    inputs.forEach((_, k) => {
      mixed[k]![row] = value(both.slice(0, 3).fill(both[3 + k]!, k, k + 1));
    });
  }
  const plain = estimateIndices({ a, b, mixed }, inputs, 'same');

  test('that change places give the same bits in their new places', () => {
    const turned = estimateIndices(
      { a, b, mixed: [mixed[2]!, mixed[0]!, mixed[1]!] },
      [inputs[2]!, inputs[0]!, inputs[1]!],
      'same',
    );
    expect(turned.inputs).toEqual([plain.inputs[2], plain.inputs[0], plain.inputs[1]]);
  });

  test('beside which a dummy stands keep their bits, and its total index holds 0', () => {
    const withDummy = estimateIndices({ a, b, mixed: [...mixed, a] }, [...inputs, 'dummy'], 'same');
    expect(withDummy.inputs.slice(0, 3)).toEqual(plain.inputs);
    expect(withDummy.inputs[3]!.total).toEqual({ estimate: 0, lower: 0, upper: 0, unclipped: 0 });
    expect(withDummy.inputs[3]!.firstOrder).toMatchObject({ lower: 0, upper: 0 });
  });

  test('in another unit give the same indices: to the bit for powers of two, else to rounding', () => {
    const inUnit = (factor: number, from = 0) => {
      const scaled = (column: Float64Array): Float64Array => column.map((figure) => factor * figure + from);
      return estimateIndices({ a: scaled(a), b: scaled(b), mixed: mixed.map(scaled) }, inputs, 'same');
    };
    expect(inUnit(128).inputs).toEqual(plain.inputs);
    for (const other of [inUnit(100), inUnit(-0.01, 5)]) {
      other.inputs.forEach(({ firstOrder, total, verdict }, k) => {
        const same = plain.inputs[k]!;
        expect(firstOrder.unclipped).toBeCloseTo(same.firstOrder.unclipped, 11);
        expect(total.lower).toBeCloseTo(same.total.lower, 11);
        expect(total.upper).toBeCloseTo(same.total.upper, 11);
        expect(verdict.kind).toBe(same.verdict.kind);
      });
    }
    expect(inUnit(100).variance / plain.variance).toBeCloseTo(1e4, 6);
  });
});
