import { beforeAll, describe, expect, test } from 'vitest';
import { seasonShift } from '../../dist/decide/season-shift.js';
import type { SeasonShift } from '../../lib/decide/season-shift-types.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { runScenario, type RunResult } from '../../dist/run.js';
import { compileScenario } from '../../dist/scenario/compile.js';
import { parseScenario } from '../../dist/scenario/read.js';
import type { Scenario } from '../../dist/scenario/schema/index.js';
import { FIT_SCENARIO } from '../support/fit-files.js';

const TRIALS = 120;

/** Draws of two assumptions that move together, as a fit writes them. */
const FITTED = {
  fitted: {
    source: 'fitted to test',
    columns: [
      { assumption: 'assumptions.abradability', unit: 'mm3/J' },
      { assumption: 'surfaces.gravel.wearFactor', unit: '' },
    ],
    draws: Array.from({ length: 40 }, (_, k) => [0.15 + 0.0002 * k, 1.5 - 0.002 * k]),
  },
};

function scenarioWith(changes?: Readonly<Record<string, unknown>> | string): Scenario {
  return parseScenario(JSON.stringify(FIT_SCENARIO), 'scenario', '.', changes).scenario;
}

const before = scenarioWith();
const after = scenarioWith(JSON.stringify(FITTED));

let shift: SeasonShift;
const runs: RunResult[] = [];
const doneTrials: number[] = [];

beforeAll(async () => {
  shift = await seasonShift(before, after, {
    trials: TRIALS,
    workers: 1,
    onProgress: ({ finishedTrials, totalTrials }) => {
      expect(totalTrials).toBe(2 * TRIALS);
      doneTrials.push(finishedTrials);
    },
  });
  for (const scenario of [before, after]) {
    runs.push((await runScenario(compileScenario(scenario), { trials: TRIALS, workers: 1 })).result);
  }
});

describe('a season before and after', () => {
  test('changes as text and as data read the same', () => {
    expect(scenarioWith(FITTED)).toEqual(after);
    expect(after.fitted?.draws).toHaveLength(40);
  });

  test('has the figures of two runs of their own', () => {
    expect(shift.pairings).toHaveLength(4);
    shift.pairings.forEach((pairing, index) => {
      for (const [figures, run] of [
        [pairing.before, runs[0]!],
        [pairing.after, runs[1]!],
      ] as const) {
        const { setup, mix, life, puncture, doubts } = run.pairings[index]!;
        expect([pairing.setup, pairing.mix]).toEqual([setup, mix]);
        expect(figures.lifeHours.p50).toBe(life.hours.p50);
        expect(figures.lifeHours.medianInterval).toEqual(life.hours.intervals.p50);
        expect(figures.flatChance.estimate).toBe(puncture.season.estimate);
        expect(figures.ignoranceHours!.estimate).toBeCloseTo(doubts.lifeHours.ignorance!, 10);
        expect(figures.ignoranceHours!.upper).toBeGreaterThan(figures.ignoranceHours!.estimate);
      }
      const means = runs.map((run) => run.pairings[index]!.life.hours.mean);
      expect(pairing.change.meanLifeHours.estimate).toBeCloseTo(means[1]! - means[0]!, 8);
    });
  });

  test('rubber that wears faster lasts shorter, told beyond the error; common landings narrow it', () => {
    for (const { change } of shift.pairings) {
      expect(change.meanLifeHours.upper).toBeLessThan(0);
      expect(change.meanLifeHours.varianceRatio).toBeLessThan(1.05);
    }
  });

  test('hears of both runs', () => {
    expect(doneTrials.at(-1)).toBe(2 * TRIALS);
    expect(doneTrials).toContain(TRIALS);
    expect(doneTrials).toEqual(doneTrials.toSorted((one, other) => one - other));
  });

  test('tells the best set-up of each mix by each criterion that has figures', () => {
    expect(new Set(shift.best.map(({ mix }) => mix))).toEqual(new Set(['paved', 'mixed']));
    for (const { before: was, after: is, change } of shift.best) {
      if (change === 'same') expect(is.best).toBe(was.best);
      else expect(is.best).not.toBe(was.best);
    }
  });

  test('is plain data', () => {
    expect(JSON.parse(JSON.stringify(shift))).toEqual(shift);
  });
});

test('the same assumptions change nothing, exactly', async () => {
  const none = await seasonShift(before, before, { trials: 20, workers: 1 });
  for (const { change, before: was, after: is } of none.pairings) {
    expect(change.meanLifeHours).toMatchObject({ estimate: 0, lower: 0, upper: 0 });
    expect(is).toEqual(was);
    expect(was.ignoranceHours).toBeNull();
  }
  expect(none.best.every(({ change }) => change === 'same')).toBe(true);
});

describe('refusals', () => {
  test.each([
    [{ setups: { other: FIT_SCENARIO.setups['at 25 psi'] } }, 'the same set-ups'],
    [{ mixes: { other: { 'home pavement': '100 %' } } }, 'the same runway mixes'],
  ])('%j', async (changes, words) => {
    const call = seasonShift(before, scenarioWith(changes), { trials: 4, workers: 1 });
    await expect(call).rejects.toThrow(UsageError);
    await expect(call).rejects.toThrow(words);
  });

  test('a signal stops it, also between the two runs', async () => {
    const stop = new AbortController();
    const call = seasonShift(before, after, {
      trials: 40,
      workers: 1,
      signal: stop.signal,
      onProgress: ({ finishedTrials }) => {
        if (finishedTrials === 40) stop.abort();
      },
    });
    await expect(call).rejects.toThrow(CancelledError);
  });
});
