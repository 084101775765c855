import seedrandom from 'seedrandom';
import { expect, test } from 'vitest';
import { DrawnWorlds } from '../../dist/simulate/world.js';
import { valueOfReadings } from '../../dist/sensitivity/value-of-readings.js';
import { mean, standardErrorOfMean } from '../../lib/estimate/moments.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import { normalChoice } from '../../lib/sensitivity/known-choice.js';
import { madeRun, scenarioOf } from '../support/made-run.js';

const doubt = (p10: string, p90: string) => ({ distribution: 'lognormal', p10, p90, source: 'test' });
const scenario = scenarioOf(['d0', 'd1'], {
  surfaces: { plain: { wearFactor: doubt('0.7', '1.4') } },
  assumptions: { abradability: doubt('0.08 mm3/J', '0.14 mm3/J') },
});
const EFFECT = 'assumptions.abradability';
const COST = 'surfaces.plain.wearFactor';

// p1 ~ N(1, 1) is the effect, p2 ~ N(0, 2) the cost of one choice; the other has the value 0. Samples of the effect have
// the deviation 1: the worked example of the vignette of package voi, see published-choice.test.ts.
const exact = normalChoice(1, [
  { name: 'effect', deviation: 1 },
  { name: 'cost', deviation: 2 },
]);

/** Flats are 50 less the value, in worlds of their own for each seed: fewer are better. */
function madeFlats(seed: string, rows: number) {
  const own = { ...scenario, seed };
  const random = seedrandom.alea(seed);
  const luck = (): number => standardNormalQuantile(Math.max(random.double(), 1e-15));
  const worlds = new DrawnWorlds(own);
  const world = new Float64Array(own.assumptions.length);
  const scoreOf = (path: string): number => {
    const index = own.assumptions.findIndex((each) => each.path === path);
    const { a, b } = own.assumptions[index]!;
    return Math.log(world[index]! / a) / b;
  };
  const [d0, d1]: [number[], number[]] = [[], []];
  for (let trial = 0; trial < rows; trial++) {
    worlds.fill(trial, world);
    d0.push(50);
    d1.push(50 - (1 + scoreOf(EFFECT) - 2 * scoreOf(COST) + luck()));
  }
  return { own, run: madeRun(own, { d0: { flatsHazard: d0 }, d1: { flatsHazard: d1 } }) };
}

test('values of one and of ten samples lie in their intervals, without bias', () => {
  const seeds = 60;
  const { b } = scenario.assumptions.find(({ path }) => path === EFFECT)!;
  const found = [1, 10].map((readings) => ({
    truth: exact.ofReadings(0, readings, 1),
    readings,
    held: 0,
    values: [] as number[],
  }));
  for (let seed = 0; seed < seeds; seed++) {
    const { own, run } = madeFlats(`readings ${seed}`, 1000);
    for (const each of found) {
      const { value } = valueOfReadings(own, run, {
        mix: 'only',
        criterion: 'flats',
        assumption: EFFECT,
        readings: each.readings,
        // An error as large as the doubt: deviation 1 in units of the value.
        errorShare: b,
      });
      if (value.lower <= each.truth && each.truth <= value.upper) each.held++;
      each.values.push(value.estimate);
    }
  }
  for (const { truth, held, values } of found) {
    // 4 errors of the mean, and a fiftieth of the value of knowing all.
    expect(Math.abs(mean(values) - truth)).toBeLessThan(4 * standardErrorOfMean(values) + exact.perfect / 50);
    // 90 % asked for instead of 95, as the value may lie near its end at 0; less 3.7 binomial errors of 60 seeds: 45.

    expect(held).toBeGreaterThanOrEqual(45);
  }
});
