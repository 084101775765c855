import { describe, expect, test } from 'vitest';
import { comparisonChart } from '../../lib/chart/comparison.js';
import { differenceAxis, differenceRange } from '../../lib/chart/difference-axis.js';
import type { ChartRow } from '../../lib/chart/spec.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { made, madeBest, madeComparison, type MadeStanding } from '../support/made-decisions.js';
import { HARD_NAMES } from './made-result.js';

const OPTIONS = { criterion: 'costPerHour', seed: 'made' } as const;
const STANDINGS: readonly MadeStanding[] = [
  { setup: 'rigid', mean: 10 },
  { setup: 'faired', mean: 10.1, behind: made(0.1, 0.2) },
  { setup: 'soft', mean: 15, behind: made(5, 0.1) },
];
const OPEN = { kind: 'run more trials', open: ['faired'] } as const;

const onMix = (
  mix: string,
  ...best: Parameters<typeof madeBest> extends [string, ...infer Rest] ? Rest : never
) => madeComparison(mix, { costPerHour: madeBest(mix, ...best) });

function setupRows(spec: ReturnType<typeof comparisonChart>): ChartRow[] {
  return chartRows(spec).filter((row) => 'behind' in row);
}

test('has the paired difference of each set-up to the best, with its interval', async () => {
  const chart = comparisonChart([onMix('gravel', STANDINGS, OPEN)], OPTIONS);
  const svg = await expectSoundChart(chart);
  expect(
    setupRows(chart).map(({ setup, behind, lower, upper, open }) => [setup, behind, lower, upper, open]),
  ).toEqual([
    ['rigid', 0, 0, 0, true],
    ['faired', 0.1, 0.1 - 0.4, 0.1 + 0.4, true],
    ['soft', 5, 4.8, 5.2, false],
  ]);
  expect(markLabels(svg)).toContain(
    'soft on gravel: 15.0 credits per flight hour, 5.00 (4.80 to 5.20) credits per flight hour behind',
  );
  for (const text of ['gravel', 'rigid', '10.0 (best)', '15.0 (+5.00)'])
    expect(shownText(svg).split('\n')).toContain(text);
});

test('where more is better, less than the best is told with a minus', () => {
  const best = madeBest('gravel', STANDINGS, {}, { criterion: 'life', unit: 'h', better: 'more' });
  const chart = comparisonChart([madeComparison('gravel', { life: best })], {
    criterion: 'life',
    seed: 'made',
  });
  expect(setupRows(chart)[2]!.text).toBe('15.0 (-5.00)');
});

test('a set-up stands at the same place on every mix', () => {
  const turned = [STANDINGS[0]!, { setup: 'soft', mean: 11 }, { setup: 'faired', mean: 12 }];
  const chart = comparisonChart([onMix('gravel', STANDINGS), onMix('rock', turned)], OPTIONS);
  const placeOf = (mix: string): unknown[] =>
    setupRows(chart)
      .filter((row) => row.mix === mix)
      .sort((a, b) => String(a.setup).localeCompare(String(b.setup)))
      .map(({ setupPlace }) => setupPlace);
  expect(placeOf('gravel')).toEqual(placeOf('rock'));
});

describe('the finding', () => {
  const titleOf = (...comparisons: Parameters<typeof comparisonChart>[0][number][]): string =>
    comparisonChart(comparisons, OPTIONS).title.text.join(' ');
  const soft = [{ setup: 'soft', mean: 1 }, STANDINGS[0]!];

  test.each([
    [[onMix('gravel', STANDINGS)], 'rigid is cheapest on gravel'],
    [[onMix('gravel', STANDINGS), onMix('rock', STANDINGS)], 'rigid is cheapest on all 2 mixes'],
    [
      [onMix('gravel', STANDINGS), onMix('rock', STANDINGS, OPEN)],
      'rigid is cheapest on 1 of 2 mixes (others not settled)',
    ],
    [[onMix('gravel', STANDINGS), onMix('rock', soft)], 'Which set-up is cheapest depends on the mix'],
    [[onMix('gravel', STANDINGS, OPEN)], 'Which set-up is cheapest on gravel is too close to tell'],
    [
      [onMix('gravel', STANDINGS, { kind: 'measure' })],
      'Which set-up is cheapest on gravel depends on what is not measured yet',
    ],
    [
      [onMix('gravel', STANDINGS, { kind: 'practically equal', equal: ['faired'] })],
      'The best set-ups are practically equal in money on gravel',
    ],
  ])('%#', (comparisons, title) => {
    expect(titleOf(...comparisons)).toBe(title);
  });
});

describe('the axis of differences', () => {
  test('holds all values and 0, with round ticks', () => {
    expect(differenceRange([0, 2050]).ticks).toEqual([0, 1000, 2000]);
    expect(differenceRange([-0.06, 0.18]).ticks).toEqual([0, 0.1]);
    const { domain } = differenceRange([-3, 7]);
    expect(domain[0]).toBeLessThan(-3);
    expect(domain[1]).toBeGreaterThan(7);
    expect(differenceRange([0]).domain[1]).toBeGreaterThan(0);
  });

  test('is by factors where some are far beyond what matters, so that near ones are told apart', () => {
    expect(differenceAxis([0, 2], 1).scale).toMatchObject({ nice: false });
    expect(differenceAxis([0, 2], 1).scale).not.toHaveProperty('type');
    const far = differenceAxis([-0.06, 70], 0.12);
    expect(far.scale).toMatchObject({ type: 'symlog', constant: 0.12 });
    expect(far.ticks).toEqual([0, 0.1, 1, 10]);
    expect(differenceAxis([0, 70], 0).scale).not.toHaveProperty('type');
  });

  test('by factors is sound when drawn', async () => {
    const far = [...STANDINGS, { setup: 'far', mean: 5000 }];
    const svg = await expectSoundChart(comparisonChart([onMix('gravel', far)], OPTIONS));
    expect(shownText(svg)).toContain(
      'behind the best (credits per flight hour), by factors beyond the shaded',
    );
  });
});

test('is sound with hard names', async () => {
  const hard = HARD_NAMES.map((setup, index) => ({ setup, mean: 10 + index }));
  await expectSoundChart(
    comparisonChart(
      HARD_NAMES.slice(0, 3).map((mix) => onMix(mix, hard)),
      OPTIONS,
    ),
  );
});

test('what was not compared or has no prices is refused', () => {
  expect(() => comparisonChart([], OPTIONS)).toThrow(UsageError);
  expect(() => comparisonChart([madeComparison('gravel', {})], OPTIONS)).toThrow(
    /not compared by "costPerHour"/,
  );
  const unpriced = madeComparison('gravel', { costPerHour: { priced: false, needs: 'needs "costs"' } });
  expect(() => comparisonChart([unpriced], OPTIONS)).toThrow('money cannot be drawn: needs "costs"');
});
