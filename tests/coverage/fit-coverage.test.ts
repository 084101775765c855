/**
 * How often fits of small invented logbooks held the truth, as fit-coverage.js found and wrote down: the simulator itself
 * lived the logs, in worlds drawn from the scenario's own assumptions. If the posterior is right, its 80 % intervals hold
 * the truth in 80 % of the logs, and the truth lies in every tenth of the posterior equally often (Talts, Betancourt,
 * Simpson, Vehtari, Gelman, "Validating Bayesian inference algorithms with simulation-based calibration", 2018, from
 * memory). All checks together err with a chance of about one in a thousand if every fit is sound.
 */
import { describe, expect, test } from 'vitest';
import { fileURLToPath } from 'node:url';
import { binomialCdf, chiSquareQuantile } from '../../lib/numeric/special.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import {
  cellsOf,
  chanceOfCount,
  isInside,
  pooledShare,
  tenthsHeld,
  unevenness,
  type ShapeCoverage,
} from './coverage-cells.js';
import stored from './fit-coverage.json' with { type: 'json' };

const FALSE_ALARM = 1e-3;
/** A number that fewer logs tell of is only counted with all others: some five in every tenth of the posterior. */
const LEAST_LOGS = 50;

/** Logs of each kind; those with many cuts take the longest, and fewer of them do. */
const WANTED_LOGS: Readonly<Record<string, number>> = { small: 200, censored: 200, cuts: 110 };

/**
 * The rate of slow leaks is found too low where airplanes fly seldom: in the simulator a leak that begins between two
 * landings loses its first air after the second one, so that a check there ends it unseen. Its intervals must still hold
 * the truth this often; with leaks that lose air from their beginning the same logs of the kind "censored" rank evenly.
 */
const SLOW_LEAKS = { path: 'assumptions.slowLeaks', least80: 0.65, least95: 0.85 };

const shapes = Object.entries(stored.shapes as unknown as Readonly<Record<string, ShapeCoverage>>);
const told = shapes.flatMap(([shape, coverage]) =>
  Object.keys(coverage.counts)
    .filter((path) => coverage.counts[path]!.logs >= LEAST_LOGS)
    .map((path) => ({ shape, path, coverage })),
);
/** Both levels and the ranks of every number; of each shape the ranks as a whole and four shares. */
const CHECKS = 3 * told.length + 5 * shapes.length;
const alarm = FALSE_ALARM / CHECKS;

interface Made {
  readonly digest: string;
  readonly assumptions?: Readonly<
    Record<
      string,
      { readonly scoreMean: number; readonly scoreDeviation: number; readonly effectiveSize: number }
    >
  >;
}

const load = async <Type>(name: string): Promise<Type> =>
  (await import(fileURLToPath(new URL(name, import.meta.url)))) as Type;

describe.each(shapes)('%s', (shape, coverage) => {
  test('has logbooks enough, and few are refused', () => {
    expect(coverage.logs).toBeGreaterThanOrEqual(WANTED_LOGS[shape]!);
    expect(coverage.refused.length / coverage.logs).toBeLessThan(0.1);
    expect(coverage.fits.length + coverage.refused.length).toBe(coverage.logs);
  });

  test('the counts written down are those of the logs', () => {
    for (const [path, { logs, held80, held95 }] of Object.entries(coverage.counts)) {
      const cells = cellsOf(coverage, path);
      expect(cells).toHaveLength(logs);
      expect(cells.filter((cell) => isInside(cell, 0.8))).toHaveLength(held80);
      expect(cells.filter((cell) => isInside(cell, 0.95))).toHaveLength(held95);
    }
  });

  test.each([
    ['all numbers', false],
    ['numbers that were learned', true],
  ])('intervals of %s together hold the truth as often as they say', (_, learnedOnly) => {
    const most = standardNormalQuantile(1 - alarm / 2);
    for (const level of [0.8, 0.95] as const) {
      const { share, of, errors } = pooledShare(coverage, level, learnedOnly);
      expect(of).toBeGreaterThan(100);
      expect(Math.abs(errors), `${level}: ${share} of ${of}`).toBeLessThan(most);
    }
  });

  test('the truth as a whole lies in every tenth of the draws equally often', () => {
    const counts = tenthsHeld(coverage.fits.map(({ joint }) => joint));
    expect(unevenness(counts), String(counts)).toBeLessThan(chiSquareQuantile(1 - alarm, 9));
  });

  test('logbooks made anew are the same, to the bit', async () => {
    const { livedLog } = await load<{ livedLog: (of: string, n: number) => { digest: string } }>(
      './lived-log.js',
    );
    for (const { n, digest } of [coverage.fits[0]!, coverage.fits.at(-1)!]) {
      expect(livedLog(shape, n).digest).toBe(digest);
    }
  });
});

describe.each(told.filter(({ path }) => path !== SLOW_LEAKS.path))('$shape: $path', ({ path, coverage }) => {
  const { logs, held80, held95 } = coverage.counts[path]!;

  test(`80 % intervals held the truth in ${held80} of ${logs} logs, 95 % ones in ${held95}`, () => {
    expect(chanceOfCount(held80, logs, 0.8)).toBeGreaterThan(alarm);
    expect(chanceOfCount(held95, logs, 0.95)).toBeGreaterThan(alarm);
  });

  test('the truth lies in every tenth of the posterior equally often', () => {
    const counts = tenthsHeld(cellsOf(coverage, path));
    expect(unevenness(counts), String(counts)).toBeLessThan(chiSquareQuantile(1 - alarm, 9));
  });
});

test.each(told.filter(({ path }) => path === SLOW_LEAKS.path))(
  '$shape: $path is found low, but not by more than is known',
  ({ path, coverage }) => {
    const { logs, held80, held95 } = coverage.counts[path]!;
    expect(binomialCdf(held80, logs, SLOW_LEAKS.least80)).toBeGreaterThan(alarm);
    expect(binomialCdf(held95, logs, SLOW_LEAKS.least95)).toBeGreaterThan(alarm);
  },
);

test.each(['small', 'censored'] as const)(
  'a logbook of the kind %s fitted anew gives what is written down',
  async (shape) => {
    const { coverOne } = await load<{ coverOne: (of: string, n: number) => Promise<Made> }>('./fit-one.js');
    const [{ n, assumptions }] = stored.shapes[shape].inFull as unknown as ShapeCoverage['inFull'] as [
      ShapeCoverage['inFull'][number],
    ];
    const made = await coverOne(shape, n);
    expect(Object.keys(made.assumptions!).sort()).toEqual(Object.keys(assumptions).sort());
    // Within Monte Carlo error, as another version may draw otherwise from the same posterior: false alarms once in a
    // thousand over both logs.
    const most = standardNormalQuantile(1 - FALSE_ALARM / 2 / (4 * Object.keys(assumptions).length));
    for (const [path, [mean, deviation, size]] of Object.entries(assumptions)) {
      const { scoreMean, scoreDeviation, effectiveSize } = made.assumptions![path]!;
      const parts = 1 / size! + 1 / effectiveSize;
      expect(Math.abs(scoreMean - mean!), path).toBeLessThan(most * deviation! * Math.sqrt(parts));
      // The logarithm of a variance has twice the reciprocal of the sizes as its variance, for normal draws.
      expect(Math.abs(2 * Math.log(scoreDeviation / deviation!)), path).toBeLessThan(
        most * Math.sqrt(2 * parts),
      );
    }
  },
);
