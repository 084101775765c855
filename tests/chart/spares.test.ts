import { expect, test } from 'vitest';
import { sparesChart } from '../../lib/chart/spares.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { madeItem, madeStock } from '../support/made-decisions.js';
import { HARD_NAMES } from './made-result.js';

const RUN = { trials: 500, seed: 'made' };

test('has a dot for each number of units, and marks the stock to keep and that of the Poisson formula', async () => {
  const item = madeItem(3);
  const chart = sparesChart([madeStock([item])], RUN);
  const svg = await expectSoundChart(chart);
  const rows = chartRows(chart).filter((row) => 'stock' in row);
  expect(rows.map(({ stock, service }) => [stock, service])).toEqual(
    item.steps.map(({ stock, service }) => [stock, service.estimate]),
  );
  expect(rows.filter(({ chosen }) => chosen === true).map(({ stock }) => stock)).toEqual([3]);
  expect(rows.filter(({ poisson }) => poisson === true).map(({ stock }) => stock)).toEqual([2]);
  expect(markLabels(svg)).toContain(
    'rigid 29: with 3 in stock nobody waits in 100 % of seasons, the stock to keep',
  );
  expect(shownText(svg)).toContain('keep 3');
  expect(chart.title.text.join(' ')).toBe(
    '3 spare tires for 95 % service, 3 airplanes on rigid 29 all season',
  );
});

test('several gear sets are told apart in title and panels', async () => {
  const tube = madeItem(9, { kind: 'tube' });
  const chart = sparesChart([madeStock([madeItem(3), tube]), madeStock([madeItem(24)], 'soft 29')], RUN);
  const svg = await expectSoundChart(chart);
  expect(chart.title.text.join(' ')).toBe('3 to 24 spare tires for 95 % service, depending on the gear set');
  expect(shownText(svg)).toContain('tube for rigid 29');
});

test('is sound with hard names, nothing to keep, and much to keep', async () => {
  const items = HARD_NAMES.map((tire, index) => madeItem(index * 15, { tire }));
  await expectSoundChart(sparesChart([madeStock(items, HARD_NAMES[0])], RUN));
});

test('a large stock is in the picture, with the numbers around it', () => {
  const rows = chartRows(sparesChart([madeStock([madeItem(90)])], RUN)).filter((row) => 'stock' in row);
  expect(rows.filter(({ chosen }) => chosen === true).map(({ stock }) => stock)).toEqual([90]);
  expect(rows.length).toBeLessThan(50);
});

test('without an item there is nothing to draw', () => {
  expect(() => sparesChart([madeStock([])], RUN)).toThrow(UsageError);
});
