import { describe, expect, test } from 'vitest';
import { knownAnswersChart, type KnownAnswerRow } from '../../lib/chart/known-answers.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { HARD_NAMES } from './made-result.js';

const row = (name: string, off: number): KnownAnswerRow => ({
  name,
  exact: 20,
  estimate: 20 + 0.25 * off,
  standardError: 0.25,
  unit: 'landings',
  trials: 500,
  seed: 'test',
});
const equal: KnownAnswerRow = { ...row('equal', 0), standardError: 0 };
const titleOf = (...rows: KnownAnswerRow[]): string => knownAnswersChart(rows).title.text.join(' ');

describe('a chart of known answers', () => {
  const rows = [row('low', -1.5), row('high', 1), row('seldom', 2.5), equal];

  test('draws standard errors, sorted, with the values beside', async () => {
    const spec = knownAnswersChart(rows);
    const drawn = chartRows(spec).filter((each) => 'place' in each);
    expect(drawn.map(({ name }) => name)).toEqual(['seldom', 'high', 'equal', 'low']);
    expect(drawn.map(({ shown }) => shown)).toEqual([2.5, 1, 0, -1.5]);
    expect(drawn.map(({ group }) => group)).toEqual([
      '2 to 4',
      ...Array.from({ length: 3 }, () => 'within 2 standard errors, or equal'),
    ]);
    const text = shownText(await expectSoundChart(spec));
    expect(text).toContain('exact 20.00, simulated 20.63 ± 0.25 landings');
    expect(text).toContain('exact 20.00, simulated 20.00 landings');
  });

  test('says how many agree', () => {
    expect(titleOf(...rows)).toContain('3 of 4 known answers within 2 standard errors, none beyond 4');
    expect(titleOf(row('a', 0), row('b', 1))).toContain('all 2 known answers within 2 standard errors');
    expect(titleOf(row('a', 5))).toContain(
      '0 of 1 known answer within 2 standard errors, 1 beyond 4: look into it',
    );
  });

  test('shows what is off the scale, and what differs without chance, at the end of the axis', async () => {
    const spec = knownAnswersChart([row('far', 1e6), { ...equal, name: 'wrong', estimate: 19 }]);
    const drawn = chartRows(spec).filter((each) => 'place' in each);
    expect(drawn.map(({ name, beyond }) => [name, beyond])).toEqual([
      ['far', 'right'],
      ['wrong', 'left'],
    ]);
    const labels = markLabels(await expectSoundChart(spec)).join('\n');
    expect(labels).toContain('1000000.00 standard errors');
    expect(labels).toContain('not equal, though without chance');
  });

  test('shows very small and very large numbers', async () => {
    const tiny = { ...row('tiny', 0), exact: 1e-9, estimate: 1.3e-9, standardError: 1e-10 };
    const huge = { ...row('huge', 0), exact: 1e9, estimate: 1.1e9, standardError: 1e8 };
    const text = shownText(await expectSoundChart(knownAnswersChart([tiny, huge])));
    expect(text).toContain('exact 1.00e-9, simulated 1.30e-9 ± 1.0e-10 landings');
    expect(text).toContain('exact 1,000,000,000, simulated 1,100,000,000 ± 100,000,000 landings');
  });

  test('keeps hard names inert and whole', async () => {
    const spec = knownAnswersChart(HARD_NAMES.map((name, index) => row(name, index / 4)));
    await expectSoundChart(spec);
  });

  test('needs rows of finite numbers', () => {
    expect(() => knownAnswersChart([])).toThrow(UsageError);
    for (const wrong of [{ estimate: NaN }, { exact: Infinity }, { standardError: -1 }]) {
      expect(() => knownAnswersChart([{ ...equal, ...wrong }])).toThrow(
        /equal: exact, estimate and standard error/,
      );
    }
  });
});
