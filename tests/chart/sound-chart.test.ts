import { expect, test } from 'vitest';
import { makeChart, type ChartPart, type ChartRow } from '../../lib/chart/spec.js';
import { expectSoundChart } from '../support/charts.js';

const words = {
  title: 'Half of the tires last longer than 120 hours',
  subtitle: ['500 trials, seed test, gravelbar 0.1.0.'],
  description: 'Chance to be in limits against flight hours: half of the tires last longer than 120 hours.',
};
const rows: ChartRow[] = [
  { hours: 0, chance: 1, name: 'soft & <script>' },
  { hours: 120, chance: 0.5, name: 'soft & <script>' },
];
const line: ChartPart = {
  mark: 'line',
  encoding: {
    x: { field: 'hours', type: 'quantitative', title: 'flight hours (h)' },
    y: { field: 'chance', type: 'quantitative', title: 'chance in limits', axis: { format: '.0%' } },
    color: { field: 'name', type: 'nominal', title: 'set-up' },
  },
};
const encoded = (change: ChartPart): ChartPart => ({
  ...line,
  encoding: { ...(line.encoding as ChartPart), ...change },
});

test('the check of charts passes a sound one and hands back its drawing', async () => {
  expect(await expectSoundChart(makeChart(words, rows, line))).toContain('<svg');
});

test.each([
  ['a mark that does not exist', words, rows, { ...line, mark: 'lines' }],
  [
    'an axis without a title',
    words,
    rows,
    encoded({ x: { field: 'hours', type: 'quantitative', title: null } }),
  ],
  [
    'an axis without a unit',
    words,
    rows,
    encoded({ x: { field: 'hours', type: 'quantitative', title: 'x' } }),
  ],
  [
    'what the compiler warns about',
    words,
    rows,
    encoded({ shape: { field: 'name', type: 'quantitative', title: 'set-up' } }),
  ],
  ['no data', words, [], line],
  ['no seed', { ...words, subtitle: ['500 trials.'] }, rows, line],
  [
    'no figures in words',
    { ...words, description: 'A curve that falls from the left to the right side.' },
    rows,
    line,
  ],
  [
    'a word that should be a number',
    { ...words, title: 'Half last longer than undefined hours' },
    rows,
    line,
  ],
  [
    'too many decimals',
    words,
    [...rows, { hours: 121.123456, chance: 0.5, name: 'a' }],
    { ...line, mark: 'point' },
  ],
  [
    'nothing where a number should be',
    words,
    [{ hours: 1, chance: null, name: 'a' }],
    { ...line, mark: { type: 'point', invalid: null } },
  ],
])('the check of charts refuses %s', async (_, said, data, parts) => {
  await expect(expectSoundChart(makeChart(said, data, parts))).rejects.toThrow();
});
