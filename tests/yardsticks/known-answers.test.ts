import { describe, expect, test } from 'vitest';
import { knownAnswersChart } from '../../lib/chart/known-answers.js';
import { knownAnswers } from '../../dist/yardsticks/known-answers.js';
import { measuredShare, measuredSpread } from '../../dist/yardsticks/measure.js';
import { quietLanding } from '../../dist/yardsticks/quiet-landing.js';
import { permeation } from '../../dist/yardsticks/pressure-answers.js';
import { fixed, inDoubt, quietScenario } from '../../dist/yardsticks/quiet-scenario.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { expectSoundChart } from '../support/charts.js';

/** Standard normal quantile at 1 - 0.0001 / 2: each case raises a false alarm in 1 run of 10 000. */
const BAND_STANDARD_ERRORS = 3.8906;

const trials = 1000;
const seen: number[] = [];
const answers = await knownAnswers({
  trials,
  onProgress: ({ finishedTrials, totalTrials }) => seen.push(finishedTrials / totalTrials),
});
const answer = (name: string) => answers.find((each) => each.name === name)!;

describe('known answers', () => {
  test.each(answers)('$name', ({ exact, estimate, standardError }) => {
    if (standardError === 0) expect(estimate).toBe(exact);
    else expect(Math.abs(estimate - exact) / standardError).toBeLessThan(BAND_STANDARD_ERRORS);
  });

  test('are many, of every topic, each with its formula, source and unit', () => {
    expect(answers.length).toBeGreaterThanOrEqual(12);
    expect(new Set(answers.map(({ topic }) => topic))).toEqual(
      new Set(['wear', 'flats', 'ends', 'pressure', 'doubt']),
    );
    expect(new Set(answers.map(({ name }) => name)).size).toBe(answers.length);
    for (const { formula, source, unit, seed } of answers) {
      expect(formula.length).toBeGreaterThan(20);
      expect(source.length).toBeGreaterThan(10);
      expect(unit).not.toBe('');
      expect(seed).toBe('known answers');
    }
  });

  // 25.625 landings for a tread of 25 mean wears at gamma shape 4: recomputed in R (see the reference values of gamma
  // wear). The share of a normal ratio: closed form by hand, phi((0.93289 - 1) 288.15 / (8 sqrt(1 + 0.93289^2))).
  test('have exact results known from outside', () => {
    expect(answer('mean life when wear varies').exact).toBeCloseTo(25.625, 3);
    expect(answer('chance that cold air makes a tire low').exact).toBeCloseTo(0.0386, 3);
    // ln 2 / (2 x 1.28155).
    expect(answer('spread of life by ignorance of wear').exact).toBeCloseTo(0.27043, 5);
    // One set a mean life, 11 landings, in 500 landings, less the wear left at the end: Cox, Renewal Theory, from memory:
    // n / mean + (cv^2 - 1) / 2 with the mean 11 and variance 10 of 1 + Poisson(10), and + 1 / (2 mean) in steps.
    expect(answer('sets fitted in a long season').exact).toBeCloseTo(
      500 / 11 + (10 / 121 - 1) / 2 + 1 / 22,
      3,
    );
  });

  test('tell how far they are', () => {
    expect(seen.at(-1)).toBe(1);
    expect(seen).toEqual([...seen].sort((a, b) => a - b));
  });

  test('make a sound chart', async () => {
    await expectSoundChart(knownAnswersChart(answers));
  });

  test.each([0, 399, 1000.5, 1e6, NaN])('refuse %d trials', async (wrong) => {
    await expect(knownAnswers({ trials: wrong })).rejects.toThrow(UsageError);
  });

  test('stop on request', async () => {
    await expect(knownAnswers({ signal: AbortSignal.abort() })).rejects.toThrow(CancelledError);
    const stop = new AbortController();
    const stopped = knownAnswers({
      trials: 400,
      signal: stop.signal,
      onProgress: () => {
        stop.abort();
      },
    });
    await expect(stopped).rejects.toThrow(CancelledError);
  });

  test('differ with the seed, and not without', async () => {
    const run = { trials: 400, onProgress: () => undefined, signal: undefined };
    const [a, b, c] = await Promise.all(['1', '1', '2'].map((seed) => permeation({ ...run, seed })));
    expect(a).toEqual(b);
    expect(c![0]!.estimate).not.toBe(a![0]!.estimate);
    expect(c![0]!.exact).toBe(a![0]!.exact);
  });
});

describe('the quiet scenario', () => {
  test('leaves nothing in doubt but what is asked for', () => {
    const changes = { assumptions: { abradability: inDoubt('lognormal', '0.07 mm3/J', '0.14 mm3/J') } };
    const open = quietScenario('seed', changes, ['assumptions.abradability']);
    expect(open.assumptions.filter(({ kind }) => kind !== 'fixed').map(({ path }) => path)).toEqual([
      'assumptions.abradability',
    ]);
    expect(quietScenario('seed', changes).assumptions.every(({ kind }) => kind === 'fixed')).toBe(true);
  });

  test('has a landing whose wear and hazards follow the assumptions', () => {
    const base = quietScenario('seed', {
      surfaces: { plain: { sharpStones: fixed('1 /m2'), rockEdges: fixed('0.01 /m') } },
    });
    const twice = quietScenario('seed', {
      assumptions: { abradability: fixed('0.2 mm3/J') },
      surfaces: { plain: { sharpStones: fixed('2 /m2'), rockEdges: fixed('0.02 /m') } },
    });
    const once = quietScenario('seed', {
      assumptions: { abradability: fixed('0.1 mm3/J') },
      surfaces: { plain: { sharpStones: fixed('1 /m2'), rockEdges: fixed('0.01 /m') } },
    });
    const [one, two] = [quietLanding(once), quietLanding(twice)];
    expect(two.wornM / one.wornM).toBeCloseTo(2, 12);
    expect(two.punctures / one.punctures).toBeCloseTo(2, 12);
    expect(two.pinches / one.pinches).toBeCloseTo(2, 12);
    expect(quietLanding(base).punctures).toBe(one.punctures);
  });
});

describe('measures', () => {
  // For normal values the standard error of the standard deviation is sigma / sqrt(2 n) (Kendall and Stuart, from memory).
  test('of a spread have the error of the normal law where the values have its fourth moment', () => {
    // Three values with the moments of the normal law: 0 with weight 4, +-sqrt(3) with weight 1 each.
    const values = Float64Array.from({ length: 6000 }, (_, index) =>
      index % 6 < 4 ? 0 : index % 6 === 4 ? Math.sqrt(3) : -Math.sqrt(3),
    );
    const { estimate, standardError } = measuredSpread(values);
    expect(estimate).toBeCloseTo(1, 3);
    expect(standardError).toBeCloseTo(1 / Math.sqrt(12_000), 5);
    expect(measuredSpread([2, 2, 2])).toEqual({ estimate: 0, standardError: 0 });
  });

  test('of a share have the binomial error', () => {
    const { estimate, standardError } = measuredShare([1, 2, 3, 4], (value) => value > 3, 0.5);
    expect(estimate).toBe(0.25);
    expect(standardError).toBe(0.25);
  });
});
