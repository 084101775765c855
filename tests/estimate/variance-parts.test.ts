import seedrandom from 'seedrandom';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { sampleVariance } from '../../lib/estimate/moments.js';
import { varianceParts } from '../../lib/estimate/variance-parts.js';

/** Standard normal draws by the polar method, from a seeded stream. */
function normalStream(seed: string): () => number {
  const random = seedrandom.alea(seed);
  return () => {
    for (;;) {
      const u = 2 * random.double() - 1;
      const v = 2 * random.double() - 1;
      const square = u * u + v * v;
      if (square > 0 && square < 1) return u * Math.sqrt((-2 * Math.log(square)) / square);
    }
  };
}

function worldsLivedTwice(
  count: number,
  luck: number,
  ignorance: number,
  normal: () => number,
): [Float64Array, Float64Array] {
  const first = new Float64Array(count);
  const twin = new Float64Array(count);
  for (let i = 0; i < count; i += 1) {
    const world = 100 + ignorance * normal();
    first[i] = world + luck * normal();
    twin[i] = world + luck * normal();
  }
  return [first, twin];
}

test('in a normal model the two standard deviations are recovered within 4 of their own errors', () => {
  const [first, twin] = worldsLivedTwice(20_000, 3, 5, normalStream('twins'));
  const parts = varianceParts(first, twin);
  expect(Math.abs(parts.luckStandardDeviation - 3)).toBeLessThan(4 * parts.luckStandardError);
  expect(Math.abs(parts.ignoranceStandardDeviation - 5)).toBeLessThan(4 * parts.ignoranceStandardError);
  // Theory for normal pairs: Var(luck variance) = 2 luck^4 / n; the jackknife must agree within 5 %.
  expect(parts.luckStandardError).toBeCloseTo((3 * Math.SQRT1_2) / Math.sqrt(20_000), 3);
});

test('over many runs the two variances are unbiased and their errors honest', () => {
  const normal = normalStream('many twins');
  const runs = 400;
  const luck = new Float64Array(runs);
  const ignorance = new Float64Array(runs);
  let luckErrors = 0;
  let ignoranceErrors = 0;
  for (let run = 0; run < runs; run += 1) {
    const parts = varianceParts(...worldsLivedTwice(200, 2, 3, normal));
    luck[run] = parts.luckStandardDeviation ** 2;
    ignorance[run] = parts.ignoranceStandardDeviation ** 2;
    luckErrors += (2 * parts.luckStandardDeviation * parts.luckStandardError) / runs;
    ignoranceErrors += (2 * parts.ignoranceStandardDeviation * parts.ignoranceStandardError) / runs;
  }
  const check = (values: Float64Array, truth: number, claimed: number): void => {
    const centre = values.reduce((sum, value) => sum + value, 0) / runs;
    const spread = Math.sqrt(sampleVariance(values));
    // 4 standard errors of the mean of 400 runs: false alarm rate 6e-5.
    expect(Math.abs(centre - truth)).toBeLessThan((4 * spread) / Math.sqrt(runs));
    // A standard deviation from 400 runs is known to 3.5 %; 4 of those.
    expect(Math.abs(claimed / spread - 1)).toBeLessThan(0.14);
  };
  check(luck, 4, luckErrors);
  check(ignorance, 9, ignoranceErrors);
});

test('twins that agree exactly leave no luck; twins that share nothing leave no ignorance', () => {
  const same = Float64Array.of(1, 4, 9, 16);
  const agreed = varianceParts(same, same);
  expect(agreed.luckStandardDeviation).toBe(0);
  expect(agreed.luckStandardError).toBe(0);
  expect(agreed.ignoranceStandardDeviation ** 2).toBeCloseTo(sampleVariance(same), 12);
  const opposite = varianceParts(Float64Array.of(-1, 1, -1, 1), Float64Array.of(1, -1, 1, -1.5));
  expect(opposite.ignoranceStandardDeviation).toBe(0);
  // Even then the error is not 0: ignorance may be there and not have shown.
  expect(opposite.ignoranceStandardError).toBeGreaterThan(0);
});

test('the jackknife errors are those of leaving out each pair in turn', () => {
  const first = Float64Array.of(3, 8, 5, 12, 7, 9);
  const twin = Float64Array.of(4, 6, 6, 13, 5, 11);
  const parts = varianceParts(first, twin);
  const variances = Array.from(first, (_, left) => {
    const without = (values: Float64Array): Float64Array => values.filter((_value, i) => i !== left);
    const rest = varianceParts(without(first), without(twin));
    return [rest.luckStandardDeviation ** 2, rest.ignoranceStandardDeviation ** 2] as const;
  });
  const jackknife = (part: 0 | 1): number => {
    const values = variances.map((pair) => pair[part]);
    const centre = values.reduce((sum, value) => sum + value, 0) / values.length;
    return Math.sqrt((5 / 6) * values.reduce((sum, value) => sum + (value - centre) ** 2, 0));
  };
  const rise = (sd: number, error: number): number => Math.sqrt(sd * sd + error) - sd;
  expect(parts.luckStandardError).toBeCloseTo(rise(parts.luckStandardDeviation, jackknife(0)), 12);
  expect(parts.ignoranceStandardError).toBeCloseTo(rise(parts.ignoranceStandardDeviation, jackknife(1)), 12);
});

test('a change of unit rescales every part, a change of origin none', () => {
  const values = fc.array(
    fc.tuple(fc.double({ min: -50, max: 50, noNaN: true }), fc.double({ min: -50, max: 50, noNaN: true })),
    { minLength: 3, maxLength: 40 },
  );
  fc.assert(
    fc.property(values, (pairs) => {
      const first = Float64Array.from(pairs, ([value]) => value);
      const twin = Float64Array.from(pairs, ([, value]) => value);
      const parts = varianceParts(first, twin);
      const moved = varianceParts(
        first.map((value) => 8 * value + 3),
        twin.map((value) => 8 * value + 3),
      );
      expect(moved.luckStandardDeviation).toBeCloseTo(8 * parts.luckStandardDeviation, 6);
      expect(moved.luckStandardError).toBeCloseTo(8 * parts.luckStandardError, 6);
      expect(moved.ignoranceStandardDeviation ** 2).toBeCloseTo(
        64 * parts.ignoranceStandardDeviation ** 2,
        6,
      );
    }),
    { seed: 20_240_608, numRuns: 200 },
  );
});

test('too few or unequal results are refused', () => {
  expect(() => varianceParts(Float64Array.of(1, 2), Float64Array.of(1, 2))).toThrow(
    /^first must hold at least 3/,
  );
  expect(() => varianceParts(Float64Array.of(1, 2, 3), Float64Array.of(1, 2))).toThrow(/equally long/);
  expect(() => varianceParts(Float64Array.of(1, 2, NaN), Float64Array.of(1, 2, 3))).toThrow(/finite/);
});
