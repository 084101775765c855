import { describe, expect, test } from 'vitest';
import { limitsChart } from '../../lib/chart/limits.js';
import type { ChartRow } from '../../lib/chart/spec.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { madeBeyond, madeCheck, madeLimits, UNKNOWN_CHECK } from '../support/made-decisions.js';
import { HARD_NAMES, numbered } from './made-result.js';

const RUN = { trials: 200, seed: 'made' };
const LEAKED = { state: 'leaked', gaugePa: 100_000, value: 0.19, margin: -0.01, status: 'beyond' } as const;
const TOUCHES = madeCheck({
  code: 'fairing clearance at rest',
  wheel: 'main',
  limit: 0,
  value: 0.004,
  margin: 0.004,
});
const CHECKS = [
  madeCheck(),
  madeCheck({ code: 'rated pressure', wheel: 'main', season: [LEAKED] }),
  madeBeyond(30),
  madeBeyond(900, { binding: false, surface: 'sand' }),
  UNKNOWN_CHECK,
  TOUCHES,
];

function rowsOf(...setups: Parameters<typeof madeLimits>[]): ChartRow[] {
  return chartRows(
    limitsChart(
      setups.map((each) => madeLimits(...each)),
      RUN,
    ),
  ).filter((row) => 'check' in row);
}

test('the margin of each check is drawn as a share of its limit, the most urgent first', () => {
  const rows = rowsOf(['a', CHECKS]).sort((a, b) => Number(a.place) - Number(b.place));
  expect(rows.map(({ check, group, share, hasShare, off }) => [check, group, share, hasShare, off])).toEqual([
    ['push by hand on paved', 'beyond', -0.1, true, 'no'],
    ['propeller clearance', 'within', 0.25, true, 'no'],
    ['rated pressure, main', 'not all season', 0.25, true, 'no'],
    // A limit of 0 has no share.
    ['fairing clearance at rest, main', 'within', 0, false, 'no'],
    // Three times the limit beyond it: off the scale.
    ['push by hand on sand', 'beyond, to weigh', -1, true, 'left'],
    ['tail angle', 'not checked', 0, false, 'no'],
  ]);
  // 0.24 to 0.26 m of at least 0.2 m.
  expect([rows[1]!.worldLow, rows[1]!.worldHigh]).toEqual([0.2, 0.3]);
});

test('one set-up is sound, and says what is left, what is beyond and what is missing', async () => {
  const svg = await expectSoundChart(limitsChart([madeLimits('a', CHECKS)], RUN));
  const shown = shownText(svg).split('\n');
  for (const text of [
    '50 mm left (at least 200 mm)',
    '50 mm left (at least 200 mm); 10 mm beyond when leaked',
    '30 N beyond (at most 300 N)',
    'not checked',
  ]) {
    expect(shown).toContain(text);
  }
  const labels = markLabels(svg).join('\n');
  expect(labels).toContain('a, push by hand on paved: beyond; 330 N, limit at most 300 N; 30 N beyond');
  expect(labels).toContain(
    'a, tail angle: not checked; not known, limit not known; not checked; needs airplanes.mine',
  );
});

test('several set-ups are a grid with a cell for each check of each', async () => {
  const chart = limitsChart([madeLimits('a', CHECKS), madeLimits('b', [madeCheck()])], RUN);
  const svg = await expectSoundChart(chart);
  const shown = shownText(svg).split('\n');
  for (const text of ['a', 'b', '25 %', '-10 %', '-300 %', '4 mm', 'not checked'])
    expect(shown).toContain(text);
  expect(chartRows(chart).filter((row) => 'check' in row)).toHaveLength(CHECKS.length + 1);
});

describe('the finding', () => {
  const titleOf = (...setups: Parameters<typeof madeLimits>[]): string =>
    limitsChart(
      setups.map((each) => madeLimits(...each)),
      RUN,
    ).title.text.join(' ');
  const fine = [madeCheck()];
  const bad = [madeCheck(), madeBeyond(30)];

  test('of one set-up: what it is beyond, what it is not all season, what is missing', () => {
    expect(titleOf(['a', fine])).toBe('a is within all limits checked');
    expect(titleOf(['a', bad])).toBe('a is beyond 1 of 2 limits: push by hand');
    expect(titleOf(['a', CHECKS])).toBe(
      'a is beyond 1 of 4 limits: push by hand; 1 more not all season; 1 check for lack of data not made',
    );
  });

  test('of several: who is beyond a limit', () => {
    expect(titleOf(['a', fine], ['b', fine])).toBe('All 2 set-ups are within their limits');
    expect(titleOf(['a', bad], ['b', bad])).toBe('Each of the 2 set-ups is beyond a limit');
    expect(titleOf(['a', bad], ['b', fine], ['c', fine])).toBe(
      'a is beyond a limit, the other 2 set-ups within all',
    );
  });
});

test('is sound with hard names', async () => {
  const hard = HARD_NAMES.map((name) =>
    madeLimits(name, [madeBeyond(3, { surface: name }), madeCheck(), UNKNOWN_CHECK]),
  );
  await expectSoundChart(limitsChart(hard, RUN));
  for (const limits of hard.slice(0, 3)) await expectSoundChart(limitsChart([limits], RUN));
});

test('nothing to draw is refused', () => {
  expect(() => limitsChart([], RUN)).toThrow(UsageError);
  expect(() => limitsChart([madeLimits('a', [])], RUN)).toThrow(UsageError);
  const many = numbered(2001, 's').map((name) => madeLimits(name, [madeCheck()]));
  expect(() => limitsChart(many, RUN)).toThrow(/2001 rows/);
});
