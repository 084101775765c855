import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { judge, type Evidence, type Rival } from '../../lib/decide/verdict.js';

const rival = (
  setup: string,
  behind: number,
  reach: number,
  shareOfWorldsBest: number | null = null,
): Rival => ({
  setup,
  behind,
  reach,
  shareOfWorldsBest,
});

const evidence = (changes: Partial<Evidence>): Evidence => ({
  mix: 'gravel',
  criterion: 'costPerHour',
  unit: 'credits per flight hour',
  trials: 1000,
  best: 'a',
  rivals: [rival('b', 8, 4, 0.2)],
  indifference: 3,
  ignoranceRegret: 1,
  shareOfWorldsBest: 0.8,
  whatToMeasure: () => null,
  ...changes,
});

describe('cases worked by hand', () => {
  test('settled: clearly behind, and knowing the world gains less than what matters', () => {
    const verdict = judge(evidence({}));
    expect(verdict).toMatchObject({ kind: 'settled', best: 'a', equal: [], open: [], moreTrials: null });
    expect(verdict.text).toBe(
      'Settled on gravel: "a" is cheapest on average, 8 credits per flight hour ahead of "b", and is best in 80 % of the worlds assumed.',
    );
  });

  test('run more trials: 1000 (4 / 2)^2 = 4000 in all', () => {
    // 2 behind, give or take 4; 3 does not matter: 2 is more than 3 - 2, so being clear of 0 comes first.
    const verdict = judge(evidence({ rivals: [rival('b', 2, 4), rival('c', 20, 5)] }));
    expect(verdict).toMatchObject({ kind: 'run more trials', open: ['b'], moreTrials: 3000 });
    expect(verdict.text).toMatch(/"b" \(2 ± 4 credits per flight hour behind\)\. Run about 3000 more trials/);
  });

  test('run more trials until called equal: 1000 (4 / (3 - 0.5))^2 = 2560', () => {
    expect(judge(evidence({ rivals: [rival('b', 0.5, 4)] })).moreTrials).toBe(1600);
  });

  test('nearly told apart: asks for a tenth more trials, and at least 100', () => {
    // 1000 (2.001 / 2)^2 = 1001 in all: not "1 more trials".
    const nearly = evidence({ rivals: [rival('b', 2, 2.001)], indifference: 3 });
    expect(judge(nearly).moreTrials).toBe(100);
    expect(judge(nearly).text).toContain('Run about 100 more trials to tell them apart');
    expect(judge({ ...nearly, trials: 12 }).moreTrials).toBe(100);
    expect(judge({ ...nearly, trials: 20_000 }).moreTrials).toBe(2000);
  });

  test('no number of trials tells two equal means apart if every difference matters', () => {
    const verdict = judge(evidence({ rivals: [rival('b', 0, 4)], indifference: 0 }));
    expect(verdict).toMatchObject({ kind: 'run more trials', moreTrials: null });
    expect(verdict.text).toMatch(/state a difference that does not matter/);
  });

  test('measure: knowing the world gains more than what matters, and it is asked what to measure', () => {
    const questions: unknown[] = [];
    const whatToMeasure = (question: unknown): string => {
      questions.push(question);
      return 'sharp stones on the ridge';
    };
    const rivals = [rival('b', 8, 4, 0.1), rival('c', 9, 4, 0.35)];
    const verdict = judge(evidence({ rivals, ignoranceRegret: 3.5, shareOfWorldsBest: 0.55, whatToMeasure }));
    expect(verdict).toMatchObject({
      kind: 'measure',
      measure: 'sharp stones on the ridge',
      moreTrials: null,
    });
    expect(questions).toEqual([{ mix: 'gravel', criterion: 'costPerHour', best: 'a', rival: 'c' }]);
    expect(verdict.text).toBe(
      'Too close to call in these assumptions: on gravel, "a" is cheapest on average, but is best only in 55 % of the ' +
        'worlds they allow ("c" in 35 %). Knowing the world would gain 3.5 credits per flight hour on average. More ' +
        'trials do not help: measure sharp stones on the ridge.',
    );
    expect(judge(evidence({ ignoranceRegret: 3.5 })).text).toMatch(
      /measure what decides between "a" and "b"\.$/,
    );
  });

  test('practically equal: within what does not matter, whichever is ahead', () => {
    const verdict = judge(evidence({ rivals: [rival('b', 1, 1.5), rival('c', 9, 2)] }));
    expect(verdict).toMatchObject({ kind: 'practically equal', equal: ['b'], open: [] });
    expect(verdict.text).toBe(
      'Practically equal on gravel: "a" and "b" differ by less than 3 credits per flight hour on average.',
    );
  });

  test('equal on average but not world by world: measure', () => {
    expect(judge(evidence({ rivals: [rival('b', 1, 1.5, 0.5)], ignoranceRegret: 6 })).kind).toBe('measure');
  });

  test('too few twins: it is said', () => {
    expect(judge(evidence({ ignoranceRegret: null, shareOfWorldsBest: null })).text).toMatch(/Too few twins/);
  });
});

test('more trials settle: with reach shrunk as asked, no rival is open any more', () => {
  const amount = fc.double({ min: 0.01, max: 100, noNaN: true });
  fc.assert(
    fc.property(
      fc.array(fc.tuple(amount, amount), { minLength: 1, maxLength: 4 }),
      amount,
      (gaps, indifference) => {
        const rivals = gaps.map(([behind, reach], k) => rival(`r${k}`, behind, reach));
        const before = evidence({ rivals, indifference, ignoranceRegret: 0 });
        const { moreTrials } = judge(before);
        if (moreTrials === null) return;
        const trials = before.trials + moreTrials;
        const shrunk = rivals.map((each) => ({
          ...each,
          reach: each.reach * Math.sqrt(1000 / trials) * (1 - 1e-9),
        }));
        expect(judge({ ...before, trials, rivals: shrunk }).open).toEqual([]);
      },
    ),
    { seed: 8, numRuns: 300 },
  );
});
