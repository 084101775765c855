import { expect, test, describe } from 'vitest';
import { indexDotsChart } from '../../lib/chart/index-dots.js';
import { anyValue, informationValueChart } from '../../lib/chart/information-value.js';
import type { ChartRow, ChartSpec } from '../../lib/chart/spec.js';
import { UsageError } from '../../lib/problems.js';
import { LANDING_LUCK } from '../../lib/sensitivity/variance-types.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import {
  madeIndices,
  MADE_PATHS,
  type MadeIndex,
  madeInformation,
  type MadeValue,
} from '../support/made-studies.js';
import { HARD_NAMES } from './made-result.js';

describe('the chart of indices', () => {
  const INPUTS: readonly MadeIndex[] = [
    { input: LANDING_LUCK, paths: [], total: 0.3 },
    { input: MADE_PATHS[0], total: 0.6, first: 0.5 },
    { input: MADE_PATHS[1], total: 0.08, verdict: 'need more trials', rowsNeeded: 1200 },
    { input: 'no effect seen', paths: [MADE_PATHS[2], MADE_PATHS[3]], total: 0, reach: 0 },
  ];
  const LIFE = { setup: 'soft', figure: 'life' } as const;

  function inputRows(spec: ChartSpec): ChartRow[] {
    return chartRows(spec).filter((row) => 'totalLower' in row);
  }

  test('has both indices of each input with their intervals, the largest total first, luck by its own shape', async () => {
    const chart = indexDotsChart(madeIndices(INPUTS), LIFE);
    const svg = await expectSoundChart(chart);
    const near = (value: number): unknown => expect.closeTo(value, 12);
    expect(
      inputRows(chart).map(({ name, kind, first, total, totalLower, totalUpper }) => [
        name,
        kind,
        first,
        total,
        totalLower,
        totalUpper,
      ]),
    ).toEqual([
      ['abradability', 'assumption', 0.5, 0.6, near(0.55), near(0.65)],
      ['landing luck', 'luck', near(0.24), 0.3, near(0.25), near(0.35)],
      ['sharp stones on gravel', 'assumption', near(0.064), 0.08, near(0.03), near(0.13)],
      ['no effect seen (2 assumptions)', 'assumption', 0, 0, 0, 0],
    ]);
    expect(markLabels(svg)).toContain(
      'abradability: 60 % (55 to 65 %) in all, 50 % (45 to 55 %) alone; matters',
    );
    for (const text of [
      'small: below 5 %',
      'need more trials: about 1,200 rows',
      'too small to see',
      'matters',
    ])
      expect(shownText(svg).split('\n')).toContain(text);
  });

  test('says what drives the figure, what cannot be told, and what knowing all would take away', () => {
    const chart = indexDotsChart(madeIndices(INPUTS), LIFE);
    expect(chart.title.text.join(' ')).toBe(
      'Abradability and landing luck drive main tire life with soft; 1 cannot be told yet',
    );
    expect(chart.title.subtitle.join(' ')).toContain(
      'Knowing all would take away 80 % (70 to 90 %) of the spread.',
    );
    const none = madeIndices(INPUTS.slice(3));
    expect(indexDotsChart(none, LIFE).title.text.join(' ')).toBe(
      'No input is seen to drive main tire life with soft',
    );
  });

  test('ranks what surely matters first, and says what is out of reach and what is chance', async () => {
    const inputs: readonly MadeIndex[] = [
      { input: MADE_PATHS[1], total: 0.5, reach: 0.46, verdict: 'need more trials', rowsNeeded: 65_537 },
      { input: MADE_PATHS[0], total: 0.3, first: 0.4 },
      { input: MADE_PATHS[2], total: 0.2, reach: 0.17, verdict: 'need more trials', rowsNeeded: 65_536 },
    ];
    const chart = indexDotsChart(madeIndices(inputs), LIFE);
    const svg = await expectSoundChart(chart);
    expect(inputRows(chart).map(({ name, isNoise }) => [name, isNoise])).toEqual([
      ['abradability', true],
      ['sharp stones on gravel', false],
      ['squirm share of a rigid sidewall', false],
    ]);
    expect(shownText(svg).split('\n')).toContain('not in reach: close to 5 %');
    expect(shownText(svg).split('\n')).toContain('need more trials: about 65,536 rows');
    expect(chart.title.subtitle.join(' ')).toContain('Grey: above “in all” by chance.');
    expect(indexDotsChart(madeIndices(INPUTS), LIFE).title.subtitle.join(' ')).not.toContain('Grey');
  });

  test('says why lines are longer where those of all inputs hold together', () => {
    const study = madeIndices(INPUTS);
    const [drivers] = study.figures;
    const subtitle = (level: number): string =>
      indexDotsChart(
        { ...study, figures: [{ ...drivers!, indices: { ...drivers!.indices, level } }] },
        LIFE,
      ).title.subtitle.join(' ');
    // Bonferroni: four inputs.
    expect(subtitle(1 - 0.05 / 4)).toContain('98.75 % each, so that all 4 hold together with 95 %.');
    expect(subtitle(0.9)).toContain('90 % intervals, each by itself.');
  });

  test('is told of a lead by both set-ups', () => {
    const lead = madeIndices(INPUTS, { versus: 'rigid', figure: 'flats', unit: 'flats per season' });
    const chart = indexDotsChart(lead, { setup: 'soft', versus: 'rigid', figure: 'flats' });
    expect(chart.title.text.join(' ')).toContain('the lead of soft over rigid in flats');
  });

  test('is sound where nothing varies, with one input, and with forty hard names', async () => {
    const still = madeIndices([{ input: MADE_PATHS[0], total: 0, reach: 0 }], {}, 0);
    const svg = await expectSoundChart(indexDotsChart(still, LIFE));
    expect(shownText(svg)).toContain('it does not vary');
    expect(shownText(svg)).toContain('nothing to share out');
    const many = Array.from({ length: 60 }, (_, index): MadeIndex => {
      const input = HARD_NAMES[index] ?? `group ${index}`;
      return {
        input,
        paths: [...MADE_PATHS],
        total: 1 - index / 60,
        verdict: index % 2 === 0 ? 'matters' : 'need more trials',
      };
    });
    const study = madeIndices(many, { setup: HARD_NAMES[0]!, versus: HARD_NAMES[1]! });
    const chart = indexDotsChart(study, {
      setup: HARD_NAMES[0]!,
      versus: HARD_NAMES[1]!,
      figure: 'life',
      count: 40,
    });
    await expectSoundChart(chart);
    expect(inputRows(chart)).toHaveLength(40);
    expect(chartRows(chart).find(({ others }) => others === true)).toMatchObject({
      name: '20 others',
      text: 'each at most 70 %; 20 cannot be told yet',
    });
  });

  test('refuses what the study does not have', () => {
    const study = madeIndices(INPUTS);
    expect(() => indexDotsChart(study, { ...LIFE, versus: 'rigid' })).toThrow(
      'the study has no life of "soft" against "rigid"; it has: life of "soft"',
    );
    expect(() => indexDotsChart(study, { ...LIFE, count: 1.5 })).toThrow(UsageError);
  });
});

describe('the chart of values of information', () => {
  const VALUES: readonly MadeValue[] = [
    { input: MADE_PATHS[1], value: [120, 80, 160] },
    { input: MADE_PATHS[0], value: [30, 0, 70] },
    { input: MADE_PATHS[2], value: [0, 0, 0] },
    { input: 'surfaces.gravel', paths: [...MADE_PATHS], value: null },
  ];

  function inputRows(spec: ChartSpec): ChartRow[] {
    return chartRows(spec).filter((row) => 'worth' in row);
  }

  const titleOf = (spec: ChartSpec): string => spec.title.text.join(' ');

  test('has the value of each input with its interval, the surest first, and of knowing everything', async () => {
    const chart = informationValueChart(madeInformation(VALUES));
    const svg = await expectSoundChart(chart);
    expect(
      inputRows(chart).map(({ name, value, lower, upper, verdict }) => [name, value, lower, upper, verdict]),
    ).toEqual([
      ['sharp stones on gravel', 120, 80, 160, 'worth measuring'],
      ['abradability', 30, 0, 70, 'no value seen'],
      ['surfaces.gravel (4 numbers)', 0, 0, 0, 'too few trials'],
    ]);
    expect(markLabels(svg)).toContain(
      'sharp stones on gravel: 120 (80 to 160) credits a season, worth measuring',
    );
    for (const text of [
      'knowing everything: 300',
      '120 (80 to 160) worth measuring',
      '30 (0 to 70) not told from 0',
      'value of knowing it before choosing (credits a season)',
      '1 other',
    ])
      expect(shownText(svg).split('\n')).toContain(text);
  });

  describe('the finding', () => {
    const of = (...args: Parameters<typeof madeInformation>): string =>
      titleOf(informationValueChart(madeInformation(...args)));

    test.each<[readonly MadeValue[], string]>([
      [VALUES, 'Measure sharp stones on gravel next: knowing it is worth 120 credits a season on gravel'],
      [
        [{ ...VALUES[0]!, verdict: 'perhaps' }],
        'Perhaps worth measuring: sharp stones on gravel (120 credits a season on gravel); more trials would tell',
      ],
      [VALUES.slice(1), 'Choose soft on gravel: no measurement is seen to change the choice'],
      [VALUES.slice(3), 'Too few trials to tell what to measure on gravel'],
    ])('%#', (values, title) => {
      expect(of(values)).toBe(title);
    });
  });

  test('draws groups among the inputs, and names one that is worth more', async () => {
    const groups = madeInformation([
      { input: 'stones', paths: [MADE_PATHS[1], MADE_PATHS[3]], value: [200, 150, 250] },
      { input: 'a group of one', paths: [MADE_PATHS[0]], value: [30, 0, 70] },
    ]);
    const chart = informationValueChart(madeInformation(VALUES), { groups });
    const svg = await expectSoundChart(chart);
    expect(inputRows(chart).map(({ name, kind }) => [name, kind])).toEqual([
      ['stones (2 numbers)', 'group'],
      ['sharp stones on gravel', 'single'],
      ['abradability', 'single'],
      ['surfaces.gravel (4 numbers)', 'group'],
    ]);
    expect(titleOf(chart)).toBe(
      'Measure sharp stones on gravel next: knowing it is worth 120 credits a season on gravel; all of stones (2 numbers): 200',
    );
    expect(shownText(svg)).toContain('group of numbers');
    const only = informationValueChart(madeInformation(VALUES.slice(1)), { groups });
    expect(titleOf(only)).toContain('Measure stones (2 numbers) next');
    expect(() =>
      informationValueChart(madeInformation(VALUES), { groups: { ...groups, mix: 'paved' } }),
    ).toThrow(UsageError);
  });

  test('draws no input where nothing has a value, and says so of all', async () => {
    const none = Array.from({ length: 10 }, (_, index): MadeValue => ({
      input: `group ${index}`,
      value: [0, 0, 0],
    }));
    const study = madeInformation(none, {
      perfect: { estimate: 0, lower: 0, upper: 0, atLeast: null, atMost: null },
      criterion: 'life',
      unit: 'h',
    });
    const chart = informationValueChart(study);
    const svg = await expectSoundChart(chart);
    expect(inputRows(chart)).toEqual([]);
    expect(chartRows(chart).find(({ others }) => others === true)).toMatchObject({
      name: 'all 10',
      text: 'no value seen',
    });
    expect(shownText(svg)).not.toContain('knowing everything: 0\n');
    expect(anyValue(study)).toBe(false);
    expect(anyValue(study, madeInformation(VALUES))).toBe(true);
  });

  test('is sound with one input and too few twins, and with forty hard names', async () => {
    const one = informationValueChart(madeInformation(VALUES.slice(0, 1), { perfect: null }));
    expect(shownText(await expectSoundChart(one))).not.toContain('knowing everything:');
    expect(one.title.subtitle.join(' ')).toContain('too few twins to tell what knowing everything is worth');
    const many = Array.from({ length: 60 }, (_, index): MadeValue => ({
      input: HARD_NAMES[index] ?? `surfaces.${index}.biteDepth`,
      paths: index < HARD_NAMES.length ? [...MADE_PATHS] : [`surfaces.${index}.biteDepth`],
      value: index % 9 === 8 ? null : [100 - index, 50 - index, 200],
      verdict: index % 9 === 8 ? 'too few trials' : 'perhaps',
    }));
    const study = madeInformation(many, { mix: HARD_NAMES[1]!, best: HARD_NAMES[0]!, setups: HARD_NAMES });
    const chart = informationValueChart(study, { count: 40 });
    await expectSoundChart(chart);
    expect(inputRows(chart)).toHaveLength(40);
    expect(() => informationValueChart(study, { count: 99 })).toThrow(UsageError);
  });
});
