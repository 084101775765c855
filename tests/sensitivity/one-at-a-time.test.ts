import { describe, expect, test } from 'vitest';
import { oneAtATime } from '../../dist/sensitivity/one-at-a-time.js';
import { StoppedStudyError } from '../../dist/sensitivity/stopped.js';
import { choiceThreshold } from '../../dist/sensitivity/threshold.js';
import { simulate } from '../../dist/simulate/simulate.js';
import { mean } from '../../lib/estimate/moments.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const doubt = (p10: string, p90: string) => ({ distribution: 'lognormal', p10, p90, source: 'test' });
const tire = { like: 'rigid 26 deep', sidewall: 'plain', tread: 'plain' };

/** Two set-ups, alike but for the compound: one wears as the pavement has it, the other by a fixed factor of 1.2. */
const twoCompounds = quietScenario({
  setups: {
    only: { mainTire: 'plain', mainPressure: '30 psi', thirdTire: 'plain', thirdPressure: '30 psi' },
    other: { mainTire: 'hard', mainPressure: '30 psi', thirdTire: 'plain', thirdPressure: '30 psi' },
  },
  compounds: {
    doubted: { wearFactor: doubt('1', '1.5'), biteFactor: fixed('1'), source: 'test' },
    hard: { wearFactor: fixed('1.2'), biteFactor: fixed('1'), source: 'test' },
  },
  tires: { plain: { ...tire, compound: 'doubted' }, hard: { ...tire, compound: 'hard' } },
  assumptions: { abradability: doubt('0.08 mm3/J', '0.16 mm3/J') },
});

describe('one at a time', () => {
  test('the middle is a plain run, to the bit; life goes with one over wear; the choice flips', async () => {
    const study = await oneAtATime(twoCompounds, { trials: 32, workers: 1, figures: ['life'] });
    const moved = study.assumptions.filter(({ seen }) => seen);
    const { pairings } = await simulate(twoCompounds, { trials: 32, workers: 1 });
    const hoursPerLanding = 0.5;
    expect(study.base[0]!.mean.estimate).toBeCloseTo(
      mean(pairings[0]!.columns.lifeLandings) * hoursPerLanding,
      9,
    );
    expect(moved.map(({ path }) => path)).toEqual([
      'assumptions.abradability',
      'compounds.doubted.wearFactor',
    ]);
    const [wear, compound] = moved;
    // Lives are thousands of landings, so rounding up to whole ones is less than a thousandth.
    const [atLow, atHigh] = [wear!.effects[0]!.atLow.estimate, wear!.effects[0]!.atHigh.estimate];
    expect(atLow / atHigh).toBeCloseTo(2, 2);
    expect(compound!.effects[1]!.change.estimate).toBe(0);
    expect(compound!.effects[0]!.change.upper).toBeLessThan(0);
    const [ranking] = compound!.rankings;
    expect(ranking).toMatchObject({
      criterion: 'life',
      orderAtLow: ['only', 'other'],
      orderAtHigh: ['other', 'only'],
      choiceFlips: 'yes',
    });
    // Life goes with one over wear: factors 1, 1.2 and 1.5. The sign is that of the set-up ahead in the plain run.
    const { ahead, leadAtLow, leadAtHigh, leadChange } = ranking!;
    const sign = ahead === 'other' ? 1 : -1;
    const hard = compound!.effects[1]!.atLow.estimate;
    expect(Math.abs(leadAtLow.estimate / hard - sign * (1 - 1.2))).toBeLessThan(0.002);
    expect(Math.abs(leadAtHigh.estimate / hard - sign * (1 - 1.2 / 1.5))).toBeLessThan(0.002);
    expect(leadChange.estimate).toBeCloseTo(leadAtHigh.estimate - leadAtLow.estimate, 9);
    // Watched the other way round, the lead has the other sign.
    const behind = ahead === 'other' ? 'only' : 'other';
    const turned = await oneAtATime(twoCompounds, {
      trials: 32,
      workers: 1,
      figures: ['life'],
      assumptions: ['compounds.doubted.wearFactor'],
      lead: [behind, ahead],
    });
    expect(turned.assumptions[0]!.rankings[0]!.leadAtLow.estimate).toBeCloseTo(-leadAtLow.estimate, 9);
    expect(wear!.rankings[0]!.choiceFlips).toBe('no');
    expect(JSON.parse(JSON.stringify(study))).toEqual(study);
  });

  test('gives the same for any number of workers, and money only with prices', async () => {
    const scenario = shippedScenario('first');
    const options = {
      trials: 24,
      assumptions: ['assumptions.abradability', 'surfaces.turf.wearFactor', 'habits.sinkRate'],
    };
    const study = await oneAtATime(scenario, { ...options, workers: 1 });
    expect(await oneAtATime(scenario, { ...options, workers: 2 })).toEqual(study);
    // No turf on this mix: no bit changes.
    const turf = study.assumptions.find(({ path }) => path.includes('turf'))!;
    expect(turf.seen).toBe(false);
    expect(turf.effects.every(({ change }) => change.estimate === 0 && change.standardError === 0)).toBe(
      true,
    );
    expect(study.notPriced).toContain('costs');
    await expect(oneAtATime(scenario, { figures: ['costPerHour'] })).rejects.toThrow('not priced');
  });

  test('stops when asked, with the finished trials', async () => {
    const stop = new AbortController();
    const assumptions = ['assumptions.abradability', 'compounds.doubted.wearFactor'];
    const study = oneAtATime(twoCompounds, {
      assumptions,
      trials: 500,
      workers: 1,
      signal: stop.signal,
      onProgress: ({ finishedTrials }) => {
        if (finishedTrials > 300) stop.abort();
      },
    });
    const error = await study.then(
      () => null,
      (reason: unknown) => reason,
    );
    expect(error).toBeInstanceOf(StoppedStudyError);
    const partial = (error as StoppedStudyError).partial as Awaited<typeof study> | null;
    expect(partial!.complete).toBe(false);
    const whole = await oneAtATime(twoCompounds, { assumptions, trials: partial!.trials, workers: 1 });
    expect({ ...whole, complete: false }).toEqual(partial);
  });

  test.each([
    [{ assumptions: ['assumptions.abradabilty'] }, 'did you mean "assumptions.abradability"'],
    [{ assumptions: ['habits.sinkRate'] }, 'is fixed'],
    [{ assumptions: [] }, 'at least one'],
    [{ trials: 3 }, 'trials is 3'],
    [{ level: 2 }, 'level is 2'],
    [{ workers: 0 }, 'workers is 0'],
    [{ mix: 'onyl' }, 'did you mean "only"'],
    [{ figures: ['lif' as 'life'] }, 'no figure named "lif"'],
    [{ lead: ['only', 'onyl'] as const }, 'did you mean "only"'],
    [{ lead: ['only', 'only'] as const }, 'a lead needs two set-ups'],
  ])('refuses %j', async (options, message) => {
    await expect(oneAtATime(twoCompounds, options)).rejects.toThrow(message);
  });
});

describe('threshold of a choice', () => {
  test('lies where the two compounds are alike', async () => {
    const found = await choiceThreshold(twoCompounds, {
      assumption: 'compounds.doubted.wearFactor',
      criterion: 'life',
      trials: 16,
      workers: 1,
    });
    expect(found.flips).toHaveLength(1);
    const [flip] = found.flips;
    expect([flip!.below, flip!.above, flip!.toldApart]).toEqual(['only', 'other', true]);
    // A halving step is 0.0016 of probability; there the factor changes by 0.0006. Rounding of lives adds as much.
    expect(Math.abs(flip!.valueSi - 1.2)).toBeLessThan(0.002);
    expect(flip!.lowerSi).toBeLessThan(flip!.valueSi);
    expect(flip!.upperSi).toBeGreaterThan(flip!.valueSi);
    expect(found.text).toContain(
      'flips from "only" to "other" when the number for wear factor of doubted rubber exceeds 1.2',
    );
    expect(JSON.parse(JSON.stringify(found))).toEqual(found);
  });

  test('is none where one set-up stays the best', async () => {
    const found = await choiceThreshold(twoCompounds, {
      assumption: 'assumptions.abradability',
      criterion: 'life',
      trials: 16,
      workers: 1,
    });
    expect(found.flips).toEqual([]);
    expect(found.text).toContain('does not flip');
  });

  test('needs two set-ups', async () => {
    const options = { assumption: 'assumptions.abradability', criterion: 'life', setups: ['only'] } as const;
    await expect(choiceThreshold(twoCompounds, options)).rejects.toThrow('at least two');
  });
});
