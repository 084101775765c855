import { expect, test } from 'vitest';
import { simulate } from '../../dist/simulate/simulate.js';
import { DrawnWorlds, medianWorld } from '../../dist/simulate/world.js';
import { chiSquareQuantile } from '../../dist/numeric/special.js';
import { quietScenario } from '../support/scenarios.js';

const DOUBT = {
  assumptions: {
    abradability: { distribution: 'lognormal', p10: '0.07 mm3/J', p90: '0.13 mm3/J', source: 'test' },
    bandGain: { distribution: 'lognormal', p10: '1', p90: '3', source: 'test' },
    tubePermeation: { distribution: 'normal', p10: '1 %/month', p90: '4 %/month', source: 'test' },
  },
};
/** Five draws in which abradability and band gain go against each other. */
const FITTED = {
  fitted: {
    source: 'fitted to test.json (3 records, 2024-05-01 to 2024-06-01)',
    columns: [
      { assumption: 'assumptions.abradability', unit: 'mm3/J' },
      { assumption: 'assumptions.bandGain', unit: '' },
    ],
    draws: [
      [0.08, 3],
      [0.09, 2.5],
      [0.1, 2],
      [0.11, 1.5],
      [0.12, 1],
    ],
  },
};
const plain = quietScenario(DOUBT);
const fitted = quietScenario(DOUBT, FITTED);
const at = (path: string): number => plain.assumptions.findIndex((each) => each.path === path);
const [abradability, gain, permeation] = ['abradability', 'bandGain', 'tubePermeation'].map((key) =>
  at(`assumptions.${key}`),
) as [number, number, number];

test('a trial takes one fitted draw whole, every draw about equally often', () => {
  const worlds = new DrawnWorlds(fitted);
  const world = new Float64Array(fitted.assumptions.length);
  const counts = new Map<number, number>();
  const trials = 5000;
  for (let trial = 0; trial < trials; trial++) {
    worlds.fill(trial, world);
    const row = FITTED.fitted.draws.findIndex(
      ([value]) => Math.abs(value! * 1e-9 - world[abradability]!) < 1e-16,
    );
    expect(world[gain]).toBe(FITTED.fitted.draws[row]![1]);
    counts.set(row, (counts.get(row) ?? 0) + 1);
  }
  const expected = trials / 5;
  const distance = [...counts.values()].reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
  // One false alarm in 10 000.
  expect(distance).toBeLessThan(chiSquareQuantile(1 - 1e-4, 4));
  expect(counts.size).toBe(5);
});

test('assumptions that are not fitted are drawn as ever', () => {
  const [before, after] = [new DrawnWorlds(plain), new DrawnWorlds(fitted)];
  const [one, other] = [0, 0].map(() => new Float64Array(plain.assumptions.length)) as [
    Float64Array,
    Float64Array,
  ];
  for (const trial of [0, 63, 64, 1000]) {
    before.fill(trial, one);
    after.fill(trial, other);
    expect(other[permeation]).toBe(one[permeation]);
    expect(other[abradability]).not.toBe(one[abradability]);
  }
});

test('medians are those of the draws', () => {
  const world = medianWorld(fitted);
  expect(world[abradability]).toBeCloseTo(1e-10, 20);
  expect(world[gain]).toBe(2);
});

test('trials do not depend on workers, order or the part of the run', async () => {
  const one = await simulate(fitted, { trials: 160, workers: 1 });
  const two = await simulate(fitted, { trials: 160, workers: 2 });
  const part = await simulate(fitted, { trials: 64, firstTrial: 96, workers: 1 });
  expect(two.pairings[0]!.columns.lifeLandings).toEqual(one.pairings[0]!.columns.lifeLandings);
  expect(part.pairings[0]!.columns.lifeLandings).toEqual(one.pairings[0]!.columns.lifeLandings.slice(96));
  // Quiet landings: the life tells the world, and a twin has that of its trial.
  const lives = one.pairings[0]!.columns.lifeLandings;
  expect(Array.from(one.twins[0]!.columns.lifeLandings)).toEqual(
    Array.from({ length: 40 }, (_, k) => lives[4 * k]!),
  );
  expect(new Set(lives).size).toBeLessThanOrEqual(5 * 160);
});
