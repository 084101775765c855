import { describe, expect, test } from 'vitest';
import { planCalendarChart } from '../../lib/chart/plan-calendar.js';
import { MOST_ROWS } from '../../lib/chart/spec.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { made, madeFleetPlan, madePlans, type MadePlan } from '../support/made-decisions.js';
import { HARD_NAMES } from './made-result.js';

const there: MadePlan = { sets: ['soft', 'rigid', 'rigid', 'soft'], cost: 5310 };
const stay: MadePlan = { sets: ['soft', 'soft', 'soft', 'soft'], cost: 6210, more: made(900, 100) };
const PLAN = madeFleetPlan([madePlans([there, stay])]);

test('is sound, and has a cell for each plan and month with the letter of its gear set', async () => {
  const chart = planCalendarChart(PLAN);
  const svg = await expectSoundChart(chart);
  const rows = chartRows(chart);
  const lettersOf = (place: number): string =>
    rows
      .filter((row) => row.place === place && 'setup' in row)
      .map(({ letter }) => letter)
      .join('');
  expect([lettersOf(1), lettersOf(2)]).toEqual(['ABBA', 'AAAA']);
  // Landings of each month stand above the plans.
  expect(rows.filter((row) => row.place === 0 && 'month' in row).map(({ letter }) => letter)).toEqual([
    '10',
    '20',
    '30',
    '40',
  ]);
  // A change is marked where the gear set differs from the month before, the year being a circle.
  expect(rows.filter(({ changed }) => changed === true).map(({ month }) => month)).toEqual([
    'June',
    'August',
  ]);
  const labels = markLabels(svg);
  expect(labels).toContain('plan 1, June: rigid, changed');
  expect(labels).toContain('July: 30 landings; gear may be changed');
  expect(labels).toContain(
    'plan 2, soft all season: 6,210 credits a season, +900 (+700 to +1,100) credits more than the best',
  );
  for (const text of [
    'May',
    'Aug',
    'soft',
    'rigid',
    '5,310',
    '6,210 (+900)',
    'best, 2 changes',
    '2, no change',
  ]) {
    expect(shownText(svg).split('\n')).toContain(text);
  }
});

describe('the finding', () => {
  const titleOf = (...plans: Parameters<typeof madeFleetPlan>): string =>
    planCalendarChart(madeFleetPlan(...plans)).title.text.join(' ');

  test('is the change and what it saves', () => {
    expect(titleOf([madePlans([there, stay])])).toBe(
      'a change to rigid in June and back to soft in August saves 900 credits a season',
    );
  });

  test('is to stay, or that it is too close to tell', () => {
    const stays = madePlans(
      [
        { ...stay, more: made(0, 0) },
        { ...there, more: made(790, 20) },
      ],
      {
        breakEven: { saving: made(-790, 20) },
      },
    );
    const close = madePlans([there, { ...stay, more: made(50, 60) }], {
      airplane: 'town runner',
      breakEven: { saving: made(50, 60) },
    });
    expect(titleOf([stays, close])).toBe(
      'bush runner: soft all season beats every change by 790 credits or more; ' +
        'town runner: too close to tell whether a change pays',
    );
    const change = madePlans([there, stay]);
    expect(titleOf([stays, close, change, change])).toBe(
      'Of 4 kinds of airplanes 2 should change gear, 1 should stay on one set, 1 are too close to tell',
    );
  });
});

test('plans that the trials cannot tell from the best are hollow, and the best alone is not', () => {
  const openOf = (more: ReturnType<typeof made>): unknown[] =>
    chartRows(planCalendarChart(madeFleetPlan([madePlans([there, { ...stay, more }])])))
      .filter((row) => 'difference' in row)
      .map(({ open }) => open);
  expect(openOf(made(50, 60))).toEqual([true, true]);
  expect(openOf(made(900, 100))).toEqual([false, false]);
});

test('the best eight and those without a change are drawn, and the rest is counted', () => {
  const many = Array.from({ length: 12 }, (_, index): MadePlan => ({ ...there, cost: 5310 + index }));
  const chart = planCalendarChart(madeFleetPlan([madePlans([...many, stay])]));
  expect(chartRows(chart).filter((row) => 'difference' in row)).toHaveLength(9);
  expect(chart.title.subtitle.join(' ')).toContain('4 further plans are not drawn.');
});

test('many airplanes stay within the rows that are drawn well', () => {
  const many = Array.from({ length: 12 }, (_, index): MadePlan => ({ ...there, cost: 5310 + index }));
  const airplanes = Array.from({ length: 60 }, () => madePlans([...many, stay]));
  expect(chartRows(planCalendarChart(madeFleetPlan(airplanes))).length).toBeLessThanOrEqual(MOST_ROWS);
});

test('is sound with hard names, many gear sets, and a single plan', async () => {
  const hard = HARD_NAMES.map((name) =>
    madePlans(
      [
        { sets: [name, 'x', 'x', name], cost: 5 },
        { ...stay, sets: [name, name, name, name] },
      ],
      {
        airplane: name,
        mix: name,
        count: 2,
      },
    ),
  );
  await expectSoundChart(planCalendarChart(madeFleetPlan(hard)));
  await expectSoundChart(planCalendarChart(madeFleetPlan([madePlans([{ ...stay, more: made(0, 0) }])])));
});

test('no airplane is refused', () => {
  expect(() => planCalendarChart(madeFleetPlan([]))).toThrow(UsageError);
});
