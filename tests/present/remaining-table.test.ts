import { describe, expect, test } from 'vitest';
import type { RemainingFigures, RemainingLife } from '../../lib/decide/remaining-types.js';
import { remainingAnswers, remainingTable } from '../../lib/present/remaining-table.js';
import { TABLE_WIDTH } from '../../lib/present/table.js';
import { textWidth } from '../../lib/present/words.js';

const chance = (estimate: number): RemainingLife['pastLimitNow'] => ({
  estimate,
  standardError: 0.001,
  lower: estimate / 2,
  upper: estimate * 2,
});

function figures(p10: number | null, p50: number | null, p90: number | null): RemainingFigures {
  const open = { lower: p50, upper: p50 };
  return { p10, p50, p90, intervals: { p10: open, p50: open, p90: open } };
}

function madeLife(changes: Partial<RemainingLife> = {}): RemainingLife {
  const none = chance(0);
  return {
    scenario: 'made up',
    setup: 'rigid 26',
    mix: 'my strips',
    seed: 'made',
    flown: { landings: 378, hours: 340 },
    date: '10 July',
    trials: 4000,
    trialsStillOn: 3000,
    effectiveTrials: 410,
    agreement: {
      checks: [
        {
          reading: {
            wheel: 'left',
            band: 'inner shoulder',
            place: 'mean',
            grooveM: 0.0048,
            errorM: 0.0004,
            stepM: 0,
          },
          expectedM: { mean: 0.0046, standardDeviation: 0.001 },
          offBy: 0.2,
        },
      ],
      chance: 0.8,
      widenedBy: 1,
    },
    remaining: { landings: figures(83, 452, 548), hours: figures(75, 407, 493), days: figures(46, 715, 767) },
    beyondHorizon: 0,
    pastLimitNow: chance(0.004),
    endCauses: { worn: chance(0.78), cut: chance(0.22), puncture: none, pressure: none, age: none },
    endOfSeason: { hours: 111, landings: 123, days: 83, date: '1 October', chance: chance(0.44) },
    reach: [{ hours: 50, landings: 55, days: 29, date: '8 August', chance: null }],
    nextInspection: {
      acceptedChance: 0.05,
      landings: 398,
      hours: 358,
      days: 400,
      cautiousHours: 210,
      beyondHorizon: false,
    },
    straightLineHours: 335,
    curves: { landings: [], hours: [], days: [], survival: [], lower: [], upper: [], pastLimit: [] },
    remarks: ['A first remark.', 'An estimate is no inspection.'],
    ...changes,
  };
}

describe('the answer', () => {
  test('tells what is left, the chance to be below the limit, and the next look', () => {
    expect(remainingAnswers(madeLife())).toEqual([
      'rigid 26 on my strips, 340 h flown, 10 July: about 407 flight hours left (8 in 10: 75.0 to 493), in about 715 days. ' +
        'Chance to reach the end of the season: 44 %. By proportion of wear alone: 335 h.',
      'Already below the tread limit somewhere: chance 0.40 % (95 %: 0.20 % to 0.80 %). Look at the tread again within ' +
        '358 h (398 landings): until then the chance to pass the limit by wear stays below 5.0 %. By the cautious end of ' +
        'the simulation error: within 210 h.',
    ]);
  });

  test('what is beyond the horizon is no number', () => {
    const [answer] = remainingAnswers(
      madeLife({
        remaining: {
          landings: figures(83, null, null),
          hours: figures(75, null, null),
          days: figures(46, null, null),
        },
        endOfSeason: { hours: 111, landings: 123, days: 83, date: '1 October', chance: null },
        straightLineHours: null,
      }),
    );
    expect(answer).toBe(
      'rigid 26 on my strips, 340 h flown, 10 July: more than half of such sets outlast the horizon (8 in 10: 75.0 to beyond the horizon).',
    );
  });

  test.each([
    [{ landings: 0, hours: 0 }, 'Look at the tread now: the chance is above the accepted 5.0 %.'],
    [{ beyondHorizon: true }, 'Wear alone stays below the accepted 5.0 % up to the horizon.'],
    [{ cautiousHours: 0 }, 'By the cautious end of the simulation error: now; run more trials.'],
  ])('a next look of %j is told', (change, words) => {
    const nextInspection = { ...madeLife().nextInspection, ...change };
    expect(remainingAnswers(madeLife({ nextInspection }))[1]).toContain(words);
  });
});

test('the table has the figures, the readings and all remarks', () => {
  const text = remainingTable(madeLife());
  expect(text.split('\n').filter((line) => textWidth(line) > TABLE_WIDTH)).toEqual([]);
  expect(text).toMatch(/flight hours +75.0 +407 +493 +407-407/);
  expect(text).toMatch(/the end of the season +111 +123 +83 +44 % +22-88 %/);
  expect(text).toMatch(/8 August +50.0 +55 +29 +not known +-/);
  expect(text).toMatch(/left inner shoulder, mean all round +4.8 mm +4.6 ± 1.0 mm +0.2/);
  expect(text).toContain('What will end them: worn 78 %, cut 22 %\n');
  expect(text).toContain('A first remark.\n');
  expect(text).toContain('Caution: An estimate is no inspection.\nCaution: For comparison only.');
});
