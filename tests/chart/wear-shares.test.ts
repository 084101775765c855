import { describe, expect, test } from 'vitest';
import { wearSharesChart } from '../../lib/chart/wear-shares.js';
import type { ChartRow } from '../../lib/chart/spec.js';
import { UsageError } from '../../lib/problems.js';
import { WEAR_CAUSES } from '../../lib/simulate/columns.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { runShipped } from '../support/results.js';
import { HARD_NAMES, madeGrid, madeResult, numbered } from './made-result.js';

/** Rows of one bar. */
function bar(rows: readonly ChartRow[], panel: string, setup: string, mix: string): ChartRow[] {
  return rows.filter((row) => row.panel === panel && row.setup === setup && row.mix === mix);
}

test('every share of a run is in the chart, each bar is whole, and its parts follow each other', async () => {
  const { result } = await runShipped('mixed-season.json', 48);
  const spec = wearSharesChart(result);
  const rows = chartRows(spec);
  for (const { setup, mix, wearShares } of result.pairings) {
    const causes = bar(rows, 'cause', setup, mix);
    expect(causes.map(({ part, share }) => [part, share])).toEqual(
      WEAR_CAUSES.map((cause) => [cause, wearShares.byCause[cause].estimate]),
    );
    const surfaces = bar(rows, 'surface', setup, mix).filter(({ share }) => share !== 0);
    expect(Object.fromEntries(surfaces.map(({ part, share }) => [part, share]))).toEqual(
      Object.fromEntries(
        Object.entries(wearShares.bySurface).map(([name, { estimate }]) => [name, estimate]),
      ),
    );
    for (const parts of [causes, surfaces]) {
      expect(parts[0]!.from).toBe(0);
      expect(parts.at(-1)!.to).toBeCloseTo(1, 5);
      parts.forEach((part, index) => {
        expect(Number(part.to) - Number(part.from)).toBeCloseTo(Number(part.share), 5);
        if (index > 0) expect(part.from).toBe(parts[index - 1]!.to);
      });
    }
  }
  const svg = await expectSoundChart(spec);
  expect(markLabels(svg).join('\n')).toMatch(/rigid 29 deep on gravel, squirm: \d+ % of the rubber worn off/);
});

describe('the finding', () => {
  const titleOf = (...pairings: Parameters<typeof madeResult>[0]): string =>
    wearSharesChart(madeResult(pairings)).title.text.join(' ');
  const braked = { setup: 'b', causes: [0.1, 0.6, 0.05, 0.15, 0.1] } as const;

  test('tells cause and surface of one pairing', () => {
    expect(titleOf({ setup: 'a' })).toBe('a on gravel: squirm wears most (45 %), mostly on paved');
  });

  test('tells what wears most everywhere, or in how many pairings', () => {
    expect(titleOf({ setup: 'a' }, { setup: 'b' })).toBe(
      'Squirm wears the main tires most everywhere, mostly on paved',
    );
    expect(titleOf({ setup: 'a' }, { setup: 'c' }, braked)).toBe(
      'Squirm wears the main tires most in 2 of 3 pairings, braking in 1',
    );
  });

  test('tells no surface where it is not the same for all', () => {
    expect(titleOf({ setup: 'a' }, { setup: 'b', surfaces: { rock: 0.9, paved: 0.1 } })).toBe(
      'Squirm wears the main tires most everywhere',
    );
  });
});

test('the largest standard error stands under the title', () => {
  // Made shares have an error of a hundredth of themselves.
  const { subtitle } = wearSharesChart(madeResult([{ surfaces: { paved: 0.87, gravel: 0.13 } }])).title;
  expect(subtitle).toContain('Simulation error of a share (standard error): at most 0.87 percentage points.');
});

describe('which mix is drawn', () => {
  const many = madeGrid(numbered(30, 'set-up'), ['m1', 'm2', 'm3', '<b>bold</b>', 'm5']);

  test('the one that is asked for', async () => {
    const spec = wearSharesChart(many, { mix: '<b>bold</b>' });
    expect(new Set(chartRows(spec).map(({ mix }) => mix))).toEqual(new Set(['<b>bold</b>']));
    expect(spec.title.subtitle).toContain('Runway mix: <b>bold</b>, one of 5.');
    expect(await expectSoundChart(spec)).not.toContain('<b>');
  });

  test('the first where all would be too many', () => {
    const spec = wearSharesChart(many);
    expect(new Set(chartRows(spec).map(({ mix }) => mix))).toEqual(new Set(['m1']));
    expect(spec.title.subtitle).toContain('Runway mix: m1, one of 5.');
  });

  test('all of them up to 24 pairings', () => {
    const spec = wearSharesChart(madeGrid(numbered(8, 's'), ['m1', 'm2', 'm3']));
    expect(new Set(chartRows(spec).map(({ mix }) => mix)).size).toBe(3);
    expect(spec.title.subtitle.join(' ')).not.toContain('Runway mix');
  });

  test('a mix that is not there is refused with the nearest name', () => {
    expect(() => wearSharesChart(many, { mix: 'M2' })).toThrow(
      new UsageError('there is no runway mix named "M2" in the result; did you mean "m2"?'),
    );
    expect(() => wearSharesChart(many, { mix: 'coral' })).toThrow(/there are: m1, m2, m3, <b>bold<\/b>, m5/);
    expect(() => wearSharesChart(madeResult([]))).toThrow(UsageError);
  });
});

test('surfaces beyond the fifth are drawn as one, with all of their wear', async () => {
  const surfaces = Object.fromEntries(
    [28, 20, 16, 12, 10, 8, 5, 1].map((share, index) => [`s${index}`, share / 100]),
  );
  const spec = wearSharesChart(madeResult([{ surfaces }]));
  const parts = chartRows(spec).filter(({ panel }) => panel === 'surface');
  expect(parts.map(({ part }) => part)).toEqual(['s0', 's1', 's2', 's3', 's4', 'other surfaces']);
  expect(parts.at(-1)!.share).toBeCloseTo(0.14, 12);
  // The errors of made shares add up likewise, and may not be taken as smaller than their sum.
  expect(parts.at(-1)!.errorText).toBe('0.14 percentage points');
  expect(shownText(await expectSoundChart(spec))).toContain('other surfaces');
});

test('a pairing without wear says so and keeps its place', async () => {
  const spec = wearSharesChart(
    madeResult([{ setup: 'still', causes: [0, 0, 0, 0, 0], surfaces: {} }, { setup: 'rolls' }]),
  );
  const svg = await expectSoundChart(spec);
  expect(shownText(svg).match(/no wear/g)?.length).toBe(2);
  expect(markLabels(svg)).toContain('still on gravel: no wear');
  const alone = wearSharesChart(madeResult([{ causes: [0, 0, 0, 0, 0], surfaces: {} }]));
  expect(alone.title.text).toEqual(['Nothing wears the main tires in these runs']);
  await expectSoundChart(alone);
});

test.each([
  ['one pairing', madeGrid(['a'], ['b'])],
  ['hard names', madeGrid(HARD_NAMES, HARD_NAMES.slice(0, 3))],
  ['30 x 10', madeGrid(numbered(30, 'set-up'), numbered(10, 'mix'))],
  [
    'hard names of surfaces',
    madeGrid(['a'], ['b'], () => ({
      surfaces: Object.fromEntries(HARD_NAMES.map((name) => [name, 1 / HARD_NAMES.length])),
    })),
  ],
])('is sound: %s', async (_, result) => {
  await expectSoundChart(wearSharesChart(result));
});
