import { describe, expect, test } from 'vitest';
import { fitAssumptions } from '../../dist/calibrate/posterior.js';
import { valueAtScore } from '../../dist/calibrate/prior.js';
import { chiSquareQuantile } from '../../dist/numeric/special.js';
import { binomialCdf } from '../../dist/numeric/special.js';
import { normalFromUniform } from '../../dist/numeric/normal.js';
import { nextUniform, openStream, streamKey } from '../../dist/random/stream.js';
import { doubtedScenario, inventLog, type LogShape } from '../support/invented-records.js';

/**
 * Simulation-based calibration (Talts, Betancourt, Simpson, Vehtari, Gelman, "Validating Bayesian inference algorithms with
 * simulation-based calibration", 2018, from memory): truths drawn from the prior, records made from them, and the rank of
 * the truth among the posterior draws must be uniform. Of a sound fit each number errs with a chance of 2 in 10 000, once by
 * its ranks and once by its intervals; all 13 or so numbers of the two kinds of log together in about 3 of 1000 seeds.
 */
const FALSE_ALARM = 1e-4;
const LOGS = 100;
const BINS = 10;
/** Draws among which the truth is ranked: one less than a multiple of the bins. */
const RANKED = 99;

const scenario = doubtedScenario();
const inDoubt = scenario.assumptions.flatMap(({ kind }, index) => (kind === 'fixed' ? [] : [index]));

interface Tally {
  readonly path: string;
  readonly ranks: number[];
  inside80: number;
  logs: number;
}

async function calibrate(shape: LogShape, name: string): Promise<Tally[]> {
  const tallies = inDoubt.map((index): Tally => ({
    path: scenario.assumptions[index]!.path,
    ranks: [],
    inside80: 0,
    logs: 0,
  }));
  for (let log = 0; log < LOGS; log++) {
    const stream = openStream(streamKey(name, 'truth', log));
    const world = Float64Array.from(scenario.assumptions, (assumption) =>
      assumption.kind === 'fixed'
        ? assumption.a
        : valueAtScore(assumption, normalFromUniform(nextUniform(stream))),
    );
    const factor = Math.exp((normalFromUniform(nextUniform(stream)) * Math.log(1.3)) / 1.2815515655446004);
    const pressureFactor = Math.exp(
      (normalFromUniform(nextUniform(stream)) * Math.log(1.3)) / 1.2815515655446004,
    );
    const made = inventLog(
      scenario,
      world,
      { ...shape, errorM: shape.errorM * factor, pressureErrorPa: shape.pressureErrorPa * pressureFactor },
      `${name} ${log}`,
    );
    const stated = {
      ...made,
      readings: made.readings.map((reading) => ({ ...reading, errorM: shape.errorM })),
    };
    const fit = await fitAssumptions(scenario, stated, {
      seed: `${name} ${log}`,
      draws: 4 * RANKED,
      chains: 2,
      effectiveSize: 200,
      errorDoubt: 1.3,
      newGrooveSpreadM: 0,
      wornSpreadM: shape.wornSpreadM,
      pressureErrorPa: shape.pressureErrorPa,
    });
    tallies.forEach((tally) => {
      const column = fit.draws.paths.indexOf(tally.path);
      if (column < 0) return;
      const truth = world[scenario.assumptions.findIndex(({ path }) => path === tally.path)]!;
      const draws = fit.draws.rows.map((row) => row[column]!);
      const thinned = Array.from(
        { length: RANKED },
        (_, k) => draws[Math.floor(((k + 0.5) * draws.length) / RANKED)]!,
      );
      tally.ranks.push(thinned.filter((value) => value < truth).length);
      const { probabilities } = fit;
      const { posterior } = fit.assumptions.find(({ path }) => path === tally.path)!.quantiles;
      tally.logs++;
      if (
        truth >= posterior[probabilities.indexOf(0.1)]! &&
        truth <= posterior[probabilities.indexOf(0.9)]!
      ) {
        tally.inside80++;
      }
    });
  }
  return tallies;
}

/** Chi-square distance of the ranks from uniform. */
function distance(ranks: readonly number[]): number {
  const counts = new Array<number>(BINS).fill(0);
  for (const rank of ranks) counts[Math.floor((rank * BINS) / (RANKED + 1))]!++;
  const expected = ranks.length / BINS;
  return counts.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
}

const READINGS: LogShape = {
  airplanes: 2,
  landingsPerDay: 5,
  days: 60,
  readEvery: 15,
  errorM: 0.0003,
  wornSpreadM: 0.0005,
  checkEvery: 30,
  pressureErrorPa: 3000,
};

/** Many tires of which nothing is known but when and why they came off, most of them still on. */
const CENSORED: LogShape = { ...READINGS, airplanes: 6, days: 60, readEvery: 0, checkEvery: 0 };

describe.each([
  ['with readings, ends and pressure checks', READINGS],
  ['of ends alone, most of them censored', CENSORED],
])('posteriors of logs %s', (name, shape) => {
  test(
    'rank the truth uniformly, and their 80 % intervals hold it in 80 % of the logs',
    { timeout: 600_000 },
    async () => {
      const tallies = await calibrate(shape, name);
      const told = tallies.filter(({ logs }) => logs >= LOGS * 0.9);
      expect(told.length).toBeGreaterThanOrEqual(4);
      for (const { path, ranks, inside80, logs } of told) {
        const most = chiSquareQuantile(1 - FALSE_ALARM, BINS - 1);
        expect(distance(ranks), `${path}: ${String(ranks)}`).toBeLessThan(most);
        expect(binomialCdf(inside80, logs, 0.8), `${path}: ${inside80} of ${logs}`).toBeGreaterThan(
          FALSE_ALARM / 2,
        );
        expect(1 - binomialCdf(inside80 - 1, logs, 0.8), `${path}: ${inside80} of ${logs}`).toBeGreaterThan(
          FALSE_ALARM / 2,
        );
      }
    },
  );
});
