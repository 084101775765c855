import { beforeAll, describe, expect, test } from 'vitest';
import { type CompiledScenario } from '../../dist/scenario/compile.js';
import { StoppedStudyError } from '../../dist/sensitivity/stopped.js';
import { whatMatters } from '../../dist/sensitivity/what-matters.js';
import type { WhatMatters } from '../../dist/sensitivity/what-matters-types.js';
import { normalCdf } from '../../lib/numeric/special.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import { naturalGroupOf, naturalGroups, workOnGroup } from '../../lib/sensitivity/natural-groups.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';
import { DOUBTED, twoCompounds } from '../support/two-compounds.js';

const COMPOUND = 'compounds.doubted.wearFactor';
const ABRADABILITY = 'assumptions.abradability';
/** Something that plays no part: no turf is landed on. */
const DUMMY = 'surfaces.turf.wearFactor';

const scenario = quietScenario(twoCompounds);
const SMALL = { trials: 400, rows: 64, workers: 1, criterion: 'life' } as const;

/**
 * Life of one is C / (a f), that of the other C / (1.2 a): f is lognormal, with sigma from its P10 and P90. The value of
 * knowing f is that of an option on 1 / f (mean of what a lognormal number exceeds a bound by; from memory), times the
 * mean of C / a. Knowing a changes no choice.
 */
function closedForm() {
  const sigma = Math.log(DOUBTED.p90 / DOUBTED.p10) / (2 * standardNormalQuantile(0.9));
  const median = Math.sqrt(DOUBTED.p10 * DOUBTED.p90);
  const meanInverse = Math.exp((sigma * sigma) / 2) / median;
  const bound = 1 / DOUBTED.flip;
  const d1 = (Math.log(meanInverse / bound) + (sigma * sigma) / 2) / sigma;
  const excess = meanInverse * normalCdf(d1) - bound * normalCdf(d1 - sigma);
  return {
    /** Of the mean life of the set-up with the known factor. */
    worth: (excess - Math.max(0, meanInverse - bound)) / bound,
    /** Share of worlds in which the known factor is the better one. */
    otherBest: 1 - normalCdf(Math.log(DOUBTED.flip / median) / sigma),
    /** Total index of f: 1 less the share of the variance that knowing a alone would take away. */
    totalOfCompound: (() => {
      const spread = Math.log(0.16 / 0.08) / (2 * standardNormalQuantile(0.9));
      const relative = Math.exp(spread * spread) - 1;
      const mean = bound - meanInverse;
      const variance = meanInverse * meanInverse * (Math.exp(sigma * sigma) - 1);
      const whole = (1 + relative) * (variance + mean * mean) - mean * mean;
      return 1 - (relative * mean * mean) / whole;
    })(),
  };
}

describe('what matters, where it is known', () => {
  let study: WhatMatters;
  const told: number[] = [];
  let total = 0;
  beforeAll(async () => {
    study = await whatMatters(scenario, {
      ...SMALL,
      // False alarm of each interval: 1 in 10 000.
      level: 0.9999,
      onProgress: ({ finishedTrials, totalTrials }) => {
        told.push(finishedTrials);
        total = totalTrials;
      },
    });
  });

  test('the choice is best on average, and its safety has the shares and the worth of the closed form', () => {
    const { worth, otherBest } = closedForm();
    const { choice, information } = study;
    expect(choice.best).toBe('other');
    expect(choice.rival).toBe('only');
    const hard = study.oneAtATime!.base.find(({ setup, figure }) => setup === 'other' && figure === 'life')!;
    const truth = worth * hard.mean.estimate;
    // The mean life comes from a few trials: 4 errors of it.
    const slack = (4 * worth * hard.mean.standardError) / 1;
    expect(choice.perfect!.lower - slack).toBeLessThanOrEqual(truth);
    expect(choice.perfect!.upper + slack).toBeGreaterThanOrEqual(truth);
    expect(choice.shareOfWorldsOther!.lower).toBeLessThanOrEqual(1 - otherBest);
    expect(choice.shareOfWorldsOther!.upper).toBeGreaterThanOrEqual(1 - otherBest);
    const [first, ...others] = information.inputs;
    expect(first!.input).toBe(COMPOUND);
    expect(first!.value!.lower - slack).toBeLessThanOrEqual(truth);
    expect(first!.value!.upper + slack).toBeGreaterThanOrEqual(truth);
    expect(others.map(({ verdict }) => verdict)).toEqual(others.map(() => 'no value seen'));
  });

  test('the deciders are the compound and what scales it, with the total index of the closed form', () => {
    expect(study.deciders.map(({ input }) => input)).toEqual([COMPOUND, ABRADABILITY]);
    const [compound] = study.deciders;
    const { totalOfCompound } = closedForm();
    expect(compound!.share!.lower).toBeLessThanOrEqual(totalOfCompound);
    expect(compound!.share!.upper).toBeGreaterThanOrEqual(totalOfCompound);
    expect(compound!.verdict!.kind).toBe('matters');
    // "Other" is better where the factor in doubt is high.
    expect(compound!.swing!.atLow.upper).toBeLessThan(0);
    expect(compound!.swing!.atHigh.lower).toBeGreaterThan(0);
    const [flip] = compound!.threshold!.flips;
    expect(Math.abs(flip!.valueSi - DOUBTED.flip)).toBeLessThan(0.002);
    expect([flip!.below, flip!.above]).toEqual(['only', 'other']);
    // Whatever the abradability, the choice is the same.
    expect(study.deciders[1]!.threshold!.flips).toEqual([]);
  });

  test('the advice is to read treads, which tells almost all', () => {
    const [first] = study.advice;
    expect([first!.input, first!.verdict]).toEqual([COMPOUND, 'worth measuring']);
    expect(study.advice.map(({ input }) => input)).not.toContain(ABRADABILITY);
    const [reading] = first!.readings;
    expect(reading!.text).toBe('read the tread of 4 tires before and after 100 landings');
    expect(reading!.value.value.estimate).toBeLessThanOrEqual(first!.value!.estimate * 1.05);
    expect(reading!.value.resolvedShare).toBeGreaterThan(0);
    expect(reading!.value.resolvedShare).toBeLessThan(1);
  });

  test('counts what it took, and its progress never goes back', () => {
    expect(study.complete).toBe(true);
    expect(study.missing).toEqual([]);
    const [common, moved, shares, thresholds] = study.work;
    expect(common!.trials).toBe(2 * (400 + 100));
    // Two assumptions change something: a plain world, and two sides of each; unseen ones stop after 16 trials.
    const unseen = study.oneAtATime!.assumptions.filter(({ seen }) => !seen).length;
    expect(moved!.trials).toBe(2 * (40 * 5 + 16 * 2 * unseen));
    expect(shares!.trials).toBe(2 * study.variance!.trials);
    expect(thresholds!.trials).toBe(2 * 80 * (11 + 6 + 11));
    expect(study.work.every(({ landings, trials }) => landings > trials)).toBe(true);
    expect(told).toEqual([...told].sort((one, other) => one - other));
    expect(told.at(-1)).toBe(total);
    expect(JSON.parse(JSON.stringify(study))).toEqual(study);
  });
});

test('the same bits for any workers; the mix where knowing more is worth most; money where it is priced', async () => {
  const twoMixes = quietScenario(twoCompounds, {
    surfaces: { hard: { like: 'plain', wearFactor: fixed('2'), source: 'test' } },
    strips: { yard: { like: 'place', touchdown: 'hard', rollout: 'hard', taxi: 'hard' } },
    mixes: { only: null, rough: { yard: '100 %' }, smooth: { place: '100 %' } },
    costs: {
      currency: 'credits',
      tube: '100',
      tireChange: '20',
      patch: '10',
      rescue: '1000',
      downDay: '40',
      source: 'test',
    },
  });
  const options = { trials: 100, rows: 16 };
  const study = await whatMatters(twoMixes, { ...options, workers: 1 });
  expect(await whatMatters(twoMixes, { ...options, workers: 2 })).toEqual(study);
  expect([study.criterion, study.unit]).toEqual(['costPerHour', 'credits per season']);
  // Tires wear twice as fast there, so twice as much money is at stake.
  expect([study.mix, study.mixChosen]).toEqual(['rough', 'where knowing more is worth most']);
  const [rough, smooth] = study.mixes;
  expect(rough!.perfect!.estimate / smooth!.perfect!.estimate).toBeCloseTo(2, 1);
  const asked = await whatMatters(twoMixes, { ...options, workers: 1, mix: 'smooth', criterion: 'flats' });
  expect([asked.mix, asked.mixChosen, asked.unit]).toEqual(['smooth', 'asked for', 'flats per season']);
  expect(asked.mixes).toHaveLength(1);
  // There are no stones: nothing decides, and nothing is worth measuring.
  expect([asked.deciders, asked.advice, asked.choice.perfect!.upper]).toEqual([[], [], 0]);
});

describe('stopped', () => {
  async function stoppedAt(share: number): Promise<WhatMatters | null> {
    const stop = new AbortController();
    const error = await whatMatters(scenario, {
      ...SMALL,
      trials: 160,
      rows: 16,
      signal: stop.signal,
      onProgress: ({ finishedTrials, totalTrials }) => {
        if (finishedTrials >= share * totalTrials) stop.abort();
      },
    }).catch((reason: unknown) => reason);
    expect(error).toBeInstanceOf(StoppedStudyError);
    const { partial } = error as StoppedStudyError;
    expect(partial === null || partial.kind === 'what matters').toBe(true);
    return partial as WhatMatters | null;
  }

  test('before a hundred trials are done, there is nothing to tell', async () => {
    expect(await stoppedAt(0)).toBeNull();
  });

  test('in a later part, what is finished is told, and what is missing', async () => {
    const whole = await whatMatters(scenario, { ...SMALL, trials: 160, rows: 16 });
    const late = (await stoppedAt(0.95))!;
    expect(late.complete).toBe(false);
    expect(late.missing).toEqual(['thresholds']);
    expect(late.variance).toEqual(whole.variance);
    expect(late.deciders.map(({ share }) => share)).toEqual(whole.deciders.map(({ share }) => share));
    const early = (await stoppedAt(400 / 4000))!;
    expect(early.missing.length).toBeGreaterThan(1);
    expect(early.choice.best).toBe(whole.choice.best);
    expect(early.deciders[0]!.input).toBe(COMPOUND);
  });
});

test('what was fitted together stays one input, and its strongest member is looked at for a flip', async () => {
  const paths = [ABRADABILITY, COMPOUND];
  const rows = Array.from({ length: 200 }, (_, k) => {
    const factor = 0.9 + (0.6 * (k + 0.5)) / 200;
    return [1e-10 * (1.5 - 0.5 * factor), factor];
  });
  const fitted: CompiledScenario = {
    ...quietScenario(twoCompounds, { surfaces: { plain: { wearFactor: scenarioDoubt() } } }),
    fitted: {
      source: 'test',
      indices: paths.map((path) => scenario.assumptions.findIndex((each) => each.path === path)),
      draws: rows.flat(),
      rows: rows.length,
      medians: [1e-10, 1.2],
    },
  };
  const study = await whatMatters(fitted, { ...SMALL, trials: 160, rows: 16 });
  const tied = study.deciders.find(({ input }) => input === 'fitted together')!;
  expect(tied.paths).toEqual(paths);
  expect(tied.threshold!.assumption).toBe(COMPOUND);
  // The two are tied one to one: each tells the other.
  expect(paths).toContain(study.advice[0]!.input);
  expect(study.groupInformation.inputs.map(({ input }) => input)).toContain('fitted together');
});

function scenarioDoubt() {
  return { distribution: 'lognormal', p10: '0.8', p90: '1.2', source: 'test' };
}

describe('natural groups', () => {
  test('hold every assumption of the shipped season, each in one', () => {
    const { assumptions } = shippedScenario('mixed-season');
    const paths = assumptions.map(({ path }) => path);
    const groups = naturalGroups(paths);
    const grouped = groups.flatMap(({ inputs }) => inputs);
    expect(new Set(grouped).size).toBe(grouped.length);
    expect(paths.map(naturalGroupOf).filter((group) => /other numbers|general numbers/.test(group))).toEqual(
      [],
    );
    const stones = groups.find(({ name }) => name === 'stones on gravel')!;
    expect(stones.inputs).toContain('surfaces.gravel.sharpStones');
    expect(stones.inputs).not.toContain('surfaces.gravel.wearFactor');
    expect(workOnGroup('stones on gravel')).toContain('walk gravel');
    expect(naturalGroups([DUMMY])).toEqual([]);
  });
});

test.each([
  [{ trials: 99 }, 'trials is 99'],
  [{ rows: 3 }, 'rows is 3'],
  [{ level: 1 }, 'level is 1'],
  [{ workers: 0 }, 'workers is 0'],
  [{ mix: 'onyl' }, 'did you mean "only"'],
  [{ setups: ['only', 'othr'] }, 'did you mean "other"'],
  [{ setups: ['only'] }, 'at least two set-ups; found one: only'],
  [{ criterion: 'costPerHour' }, 'needs costs'],
  [{ criterion: 'lif' as 'life' }, 'no criterion named "lif"'],
] as const)('refuses %j before anything is run', async (options, message) => {
  await expect(whatMatters(scenario, options)).rejects.toThrow(message);
});

test('refuses a scenario in which nothing is in doubt', async () => {
  const sure = quietScenario({
    setups: {
      second: { mainTire: 'plain', mainPressure: '31 psi', thirdTire: 'plain', thirdPressure: '30 psi' },
    },
  });
  const certain = {
    ...sure,
    assumptions: sure.assumptions.map((each) => ({ ...each, kind: 'fixed' as const })),
  };
  await expect(whatMatters(certain, { trials: 100 })).rejects.toThrow(
    'no assumption of the scenario is in doubt',
  );
});
