import seedrandom from 'seedrandom';
import { beforeAll, describe, expect, test } from 'vitest';
import { mean, sampleVariance } from '../../lib/estimate/moments.js';
import { meanWithInterval } from '../../lib/estimate/paired.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import { Anchor } from '../../lib/sensitivity/common-run.js';
import { oneAtATime } from '../../lib/sensitivity/one-at-a-time.js';
import { choiceThreshold } from '../../lib/sensitivity/threshold.js';
import { simulate, type Simulation } from '../../lib/simulate/simulate.js';
import { binomialBand } from '../support/binomial-band.js';
import { quietScenario } from '../support/scenarios.js';
import { DOUBTED, twoCompounds } from '../support/two-compounds.js';

const RUN = 400;
const STUDY = 40;

function normals(seed: string) {
  const random = seedrandom.alea(seed);
  return (rows: number): Float64Array =>
    Float64Array.from({ length: rows }, () => standardNormalQuantile(Math.max(random.double(), 1e-15)));
}

describe('means anchored on a longer run', () => {
  const draw = normals('anchor');
  const [one, other] = [draw(RUN), draw(RUN)];
  const anchor = new Anchor([one, other], STUDY, 0.95);
  const firsts = (of: (row: number) => number): Float64Array =>
    Float64Array.from({ length: STUDY }, (_, row) => of(row));

  test('are those of the run, with its error, for what the plain figures explain', () => {
    const whole = one.map((value, row) => 5 + 2 * value - 3 * other[row]!);
    const found = anchor.mean(whole.slice(0, STUDY));
    expect(found.estimate).toBeCloseTo(mean(whole), 10);
    expect(found.standardError).toBeCloseTo(Math.sqrt(sampleVariance(whole) / RUN), 10);
  });

  test('keep the mean of a difference the difference of the means, and 0 at 0', () => {
    const first = firsts((row) => one[row]! ** 2);
    const second = firsts((row) => one[row]! + other[row]! ** 3);
    const { estimate } = anchor.difference(first, second);
    expect(estimate).toBeCloseTo(anchor.mean(first).estimate - anchor.mean(second).estimate, 10);
    expect(anchor.difference(first, first)).toEqual({
      estimate: 0,
      standardError: 0,
      lower: 0,
      upper: 0,
      varianceRatio: 0,
    });
  });

  test('are plain means without a run, and take copies and a run that is no longer for nothing', () => {
    const values = firsts((row) => one[row]! + other[row]!);
    const plain = meanWithInterval(values, 0.95);
    expect(new Anchor([], STUDY, 0.95).mean(values)).toEqual(plain);
    expect(new Anchor([one.slice(0, STUDY)], STUDY, 0.95).mean(values)).toEqual(plain);
    expect(new Anchor([one.map(() => 7)], STUDY, 0.95).mean(values)).toEqual(plain);
    const [single, copied] = [[one], [one, one.map((value) => 3 - 2 * value)]].map((controls) =>
      new Anchor(controls, STUDY, 0.95).mean(values),
    );
    expect(copied!.estimate).toBeCloseTo(single!.estimate, 10);
    expect(copied!.standardError).toBeCloseTo(single!.standardError, 10);
  });

  test('have intervals that hold the truth as often as they say, and errors much smaller than plain ones', () => {
    const fresh = normals('coverage');
    const [times, slope, noise] = [600, 3, 0.5];
    let held = 0;
    let ratio = 0;
    for (let time = 0; time < times; time++) {
      const plain = fresh(RUN);
      const left = fresh(STUDY);
      const values = left.map((value, row) => 10 + slope * plain[row]! + noise * value);
      const found = new Anchor([plain], STUDY, 0.95).mean(values);
      if (found.lower <= 10 && found.upper >= 10) held++;
      ratio += found.standardError / meanWithInterval(values, 0.95).standardError / times;
    }
    // False alarm: 1 in 1000. The interval is a little wide where the run holds most of the error.
    const [fewest] = binomialBand(times, 0.95, 1, 0.001);
    expect(held).toBeGreaterThanOrEqual(fewest);
    // Variance of two phases: noise over the study, slope over the run.
    const expected = Math.sqrt((noise ** 2 / STUDY + slope ** 2 / RUN) / ((slope ** 2 + noise ** 2) / STUDY));
    expect(Math.abs(ratio / expected - 1)).toBeLessThan(0.1);
  });
});

describe('studies anchored on a common run', () => {
  const scenario = quietScenario(twoCompounds);
  const COMPOUND = 'compounds.doubted.wearFactor';
  let common: Simulation;
  beforeAll(async () => {
    common = await simulate(scenario, { trials: 200, workers: 1 });
  });

  test('agree with it on what is plain', async () => {
    const study = await oneAtATime(scenario, {
      assumptions: [COMPOUND],
      figures: ['life'],
      trials: 24,
      workers: 1,
      common,
    });
    const lives = common.pairings.map(({ setup, columns }) => ({
      setup,
      life: mean(columns.lifeLandings),
    }));
    const hours = study.base.map(({ setup, mean: found }) => ({ setup, life: found.estimate }));
    // A year of 200 landings takes 100 flight hours: half an hour for each landing.
    for (const { setup, life } of hours) {
      expect(life / (lives.find((each) => each.setup === setup)!.life / 2)).toBeCloseTo(1, 6);
    }
    // The doubted factor does nothing to the other compound: its mean stays that of the run.
    const other = study.assumptions[0]!.effects.find(({ setup }) => setup === 'other')!;
    expect(other.atLow).toEqual(other.atHigh);
    expect(other.change.estimate).toBe(0);
  });

  test('find the flip where it is, with a chance and its interval', async () => {
    const { flips } = await choiceThreshold(scenario, {
      assumption: COMPOUND,
      criterion: 'life',
      trials: 24,
      workers: 1,
      common,
    });
    const [flip] = flips;
    expect(Math.abs(flip!.valueSi - DOUBTED.flip)).toBeLessThan(0.002);
    expect(flip!.lowerProbability!).toBeLessThan(flip!.probability);
    expect(flip!.upperProbability!).toBeGreaterThan(flip!.probability);
  });

  test('refuse a run of another seed, or of later trials', async () => {
    const options = { assumption: COMPOUND, criterion: 'life', trials: 16, workers: 1 } as const;
    await expect(
      choiceThreshold(scenario, { ...options, common: { ...common, seed: 'another' } }),
    ).rejects.toThrow('the common run has seed "another"');
    await expect(
      oneAtATime(scenario, { trials: 16, workers: 1, common: { ...common, firstTrial: 4 } }),
    ).rejects.toThrow('begins with trial 4');
  });
});
