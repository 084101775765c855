import { describe, expect, test } from 'vitest';
import { assumptionEffectsChart } from '../../lib/chart/assumption-effects.js';
import { choiceThresholdChart } from '../../lib/chart/choice-threshold.js';
import type { ChartRow, ChartSpec } from '../../lib/chart/spec.js';
import { valueAxis } from '../../lib/chart/value-axis.js';
import { UsageError } from '../../lib/problems.js';
import { compileScenario } from '../../lib/scenario/compile.js';
import { readScenario } from '../../lib/scenario/read.js';
import { oneAtATime } from '../../lib/sensitivity/one-at-a-time.js';
import type { ChoiceFlip } from '../../lib/sensitivity/threshold-types.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { shipped } from '../support/command.js';
import { madeEffects, MADE_PATHS, type MadeEffect, madeThreshold } from '../support/made-studies.js';
import { HARD_NAMES } from './made-result.js';

describe('the chart of assumptions moved one at a time', () => {
  const EFFECTS: readonly MadeEffect[] = [
    { path: MADE_PATHS[0], low: 510, high: 480 },
    { path: MADE_PATHS[1], low: 600, high: 400, flips: 'yes' },
    { path: MADE_PATHS[2], low: 498, high: 499, error: 2, flips: 'perhaps' },
    { path: MADE_PATHS[3], low: 500, high: 500 },
  ];

  function effectRows(spec: ChartSpec): ChartRow[] {
    return chartRows(spec).filter((row) => 'changeLow' in row);
  }

  const titleOf = (spec: ChartSpec): string => spec.title.text.join(' ');

  test('ranks assumptions by the change of the figure, with the interval of the change at the high end', async () => {
    const chart = assumptionEffectsChart(madeEffects(EFFECTS), { figure: 'life' });
    const svg = await expectSoundChart(chart);
    expect(
      effectRows(chart).map(({ low, high, changeLow, changeHigh }) => [low, high, changeLow, changeHigh]),
    ).toEqual([
      [600, 400, 398, 402],
      [510, 480, 478, 482],
      [498, 499, 495, 503],
      [500, 500, 500, 500],
    ]);
    expect(effectRows(chart).map(({ name }) => name)).toEqual([
      'sharp stones on gravel',
      'abradability',
      'squirm share of a rigid sidewall',
      'sink rate',
    ]);
    expect(markLabels(svg)).toContain(
      'sharp stones on gravel, 1 × 10⁻⁵ to 3 × 10⁻⁴ /m2: 600.0 to 400.0 h, change -200.0 (-202.0 to -198.0) h; best changes from soft to rigid',
    );
    for (const text of ['plain run: 500', '+1 (-3 to +5)', 'no change', 'main tire life (h)'])
      expect(shownText(svg).split('\n')).toContain(text);
  });

  describe('the finding', () => {
    const one = (effects: readonly MadeEffect[], changes: Parameters<typeof madeEffects>[1] = {}): string =>
      titleOf(
        assumptionEffectsChart(madeEffects(effects, changes), { figure: changes.figures?.[0] ?? 'life' }),
      );

    test('names the largest effect on the best set-up, and how many change the choice', () => {
      expect(one(EFFECTS)).toBe(
        'Largest effect on main tire life with soft: sharp stones on gravel (600.0 to 400.0 h); 1 changes which set-up is best, 1 more may',
      );
      expect(one(EFFECTS.slice(0, 1))).toBe(
        'Largest effect on main tire life with soft: abradability (510.0 to 480.0 h); none changes which set-up is best',
      );
      expect(one(EFFECTS.slice(2, 3))).toContain('; 1 may change which set-up is best');
      // Fewer is better: the second set-up has the lower mean.
      expect(one(EFFECTS.slice(0, 1), { figures: ['flats'] })).toContain('flats with rigid');
    });

    test('says nothing of the choice where there is none, and that nothing changes where nothing does', () => {
      expect(one(EFFECTS.slice(3), { setups: ['only'] })).toBe(
        'No assumption changes main tire life with only',
      );
    });
  });

  test('of a lead is ranked by what moves it, and says where it turns', async () => {
    const study = madeEffects(EFFECTS);
    const chart = assumptionEffectsChart(study, { figure: 'life', of: 'lead' });
    const svg = await expectSoundChart(chart);
    // The lead of the made study moves from +5 to -5 where the best may change, and nowhere else.
    expect(effectRows(chart).map(({ name, low, high }) => [name, low, high])).toEqual([
      ['sharp stones on gravel', 5, -5],
      ['squirm share of a rigid sidewall', 5, -5],
      ['abradability', 5, 5],
      ['sink rate', 5, 5],
    ]);
    expect(titleOf(chart)).toBe(
      'Largest effect on the lead of soft over rigid: sharp stones on gravel (5.0 to -5.0 h); 1 changes which set-up is best, 1 more may',
    );
    // Means of a plain run: 500 and 490.
    for (const text of ['below 0, rigid is better', 'plain run: 10.0', 'lead of soft over rigid (h)'])
      expect(shownText(svg).split('\n')).toContain(text);
  });

  test('of a lead in money is that of a season where the hours of one are given', () => {
    const study = madeEffects(EFFECTS, { figures: ['costPerHour'] });
    const options = { figure: 'costPerHour', of: 'lead', hoursPerSeason: 200 } as const;
    const chart = assumptionEffectsChart(study, options);
    // Less is better: a lead of -10 per hour in a plain run.
    expect(effectRows(chart)[0]).toMatchObject({ low: 1000, high: -1000 });
    expect(JSON.stringify(chart)).toContain('lead of soft over rigid (credits a season)');
    expect(chart.description).toContain('in a plain run -2,000 credits a season');
    expect(() => assumptionEffectsChart(study, { ...options, hoursPerSeason: 0 })).toThrow('above 0');
    expect(() => assumptionEffectsChart(study, { ...options, setup: 'soft' })).toThrow(UsageError);
    const one = madeEffects(EFFECTS, { setups: ['only'] });
    expect(() => assumptionEffectsChart(one, { figure: 'life', of: 'lead' })).toThrow(
      'the study has no lead in main tire life',
    );
  });

  test('puts those beyond the count into one line, with the largest of them', () => {
    const chart = assumptionEffectsChart(madeEffects(EFFECTS), { figure: 'life', count: 1 });
    const last = chartRows(chart).find(({ others }) => others === true)!;
    expect(last).toMatchObject({ name: '3 others', text: 'at most 30.0 each; 1 may change which is best' });
    const many = assumptionEffectsChart(madeEffects(EFFECTS), { figure: 'life', count: 40 });
    expect(chartRows(many).some(({ others }) => others === true)).toBe(false);
  });

  test('shows chances in per cent, and marks of a flip only where there are any', async () => {
    const chances = [{ path: MADE_PATHS[1], low: 0.01, high: 0.05, error: 0.002 }];
    const chart = assumptionEffectsChart(madeEffects(chances, { figures: ['flatChance'] }, 0.02), {
      figure: 'flatChance',
      setup: 'soft',
    });
    const svg = await expectSoundChart(chart);
    expect(effectRows(chart)[0]).toMatchObject({ low: 1, high: 5 });
    expect(shownText(svg)).toContain('chance of a flat in a season (%)');
    expect(shownText(svg)).not.toContain('changes which set-up is best');
  });

  test('is sound with hard names and forty assumptions', async () => {
    const own = HARD_NAMES.map((name) => `surfaces.${name}.sharpStones`);
    const many = Array.from({ length: 40 }, (_, index): MadeEffect => ({
      path: own[index] ?? `surfaces.made ${index}.biteDepth`,
      low: 500 - index,
      high: 500 + 2 * index,
      flips: index % 3 === 0 ? 'perhaps' : 'no',
    }));
    const study = madeEffects(many, { setups: [...HARD_NAMES], mix: HARD_NAMES[1]! });
    await expectSoundChart(
      assumptionEffectsChart(study, { figure: 'life', count: 40, setup: HARD_NAMES[1] }),
    );
    await expectSoundChart(assumptionEffectsChart(study, { figure: 'life', count: 40, of: 'lead' }));
    const unknown = madeEffects([{ path: 'no.such', low: 1, high: 2 }], { complete: false });
    expect(assumptionEffectsChart(unknown, { figure: 'life' }).title.subtitle.join(' ')).toContain(
      'Stopped early',
    );
  });

  test('refuses what the study does not have', () => {
    const study = madeEffects(EFFECTS);
    const draw = (options: Partial<Parameters<typeof assumptionEffectsChart>[1]>) => () =>
      assumptionEffectsChart(study, { figure: 'life', ...options });
    expect(draw({ figure: 'costPerHour' })).toThrow('the study has no "costPerHour"; it has: life');
    expect(draw({ setup: 'sotf' })).toThrow('did you mean "soft"?');
    expect(draw({ count: 0 })).toThrow(UsageError);
    expect(draw({ count: 41 })).toThrow(UsageError);
  });

  test('draws a real study', async () => {
    const compiled = compileScenario(readScenario(shipped('two-gear-sets.json')).scenario);
    const study = await oneAtATime(compiled, {
      trials: 16,
      workers: 1,
      figures: ['costPerHour'],
      assumptions: [MADE_PATHS[0], MADE_PATHS[1]],
    });
    const chart = assumptionEffectsChart(study, { figure: 'costPerHour' });
    await expectSoundChart(chart);
    const { atLow, atHigh } = study.assumptions[0]!.effects.find(({ setup }) =>
      titleOf(chart).includes(setup),
    )!;
    expect(effectRows(chart)[0]).toMatchObject({ low: atLow.estimate, high: atHigh.estimate });
  });
});

describe('the chart of where the choice flips', () => {
  const LINES = { soft: [4, 4.5, 5, 6, 8], rigid: [6, 6, 5.8, 5.6, 5.5] };
  const FLIP: ChoiceFlip = {
    below: 'soft',
    above: 'rigid',
    valueSi: 2e-4,
    lowerSi: 1e-4,
    upperSi: 4e-4,
    probability: 0.7,
    lowerProbability: 0.5,
    upperProbability: 0.92,
    toldApart: true,
    text: 'Made.',
  };

  const titleOf = (spec: ChartSpec): string => spec.title.text.join(' ');
  const rowsWith = (spec: ChartSpec, field: string): ChartRow[] =>
    chartRows(spec).filter((row) => field in row);

  test('has the mean of each set-up at each value in the unit of scenarios, and the flip with its interval', async () => {
    const chart = choiceThresholdChart(madeThreshold(LINES, { flips: [FLIP] }));
    const svg = await expectSoundChart(chart);
    const soft = rowsWith(chart, 'mean').filter(({ name }) => name === 'soft');
    expect(soft.map(({ value, mean, lower }) => [value, mean, lower])).toEqual([
      [0.1, 4, 3.8],
      [0.3, 4.5, 4.3],
      [1, 5, 4.8],
      [3, 6, 5.8],
      [10, 8, 7.8],
    ]);
    expect(rowsWith(chart, 'toldApart')[0]).toMatchObject({ value: 2, lower: 1, upper: 4 });
    // Eight in ten of the worlds.
    expect(chartRows(chart).find((row) => 'from' in row)).toMatchObject({ from: 0.3, to: 3 });
    expect(markLabels(svg)).toContain(
      'sharp stones on gravel 1 × 10⁻⁴ /m2, soft: 5.00 (4.80 to 5.20) credits per flight hour',
    );
    for (const text of ['flips at 2 (1 to 4)', 'sharp stones on gravel (10⁻⁴ /m2), log', 'rigid'])
      expect(shownText(svg).split('\n')).toContain(text);
  });

  describe('the finding', () => {
    const of = (flips: readonly ChoiceFlip[]): string =>
      titleOf(choiceThresholdChart(madeThreshold(LINES, { flips })));
    test.each([
      [[], 'soft is cheapest at every plausible value of sharp stones on gravel'],
      [[FLIP], 'rigid is cheapest with sharp stones on gravel above 2 × 10⁻⁴ /m2, below it soft'],
      [
        [{ ...FLIP, toldApart: false }],
        'Perhaps rigid is cheapest with sharp stones on gravel above 2 × 10⁻⁴ /m2, below it soft',
      ],
      [
        [FLIP, { ...FLIP, below: 'rigid', above: 'soft', valueSi: 0.003 }],
        'Which set-up is cheapest changes 2 times with sharp stones on gravel: at 2 × 10⁻⁴ /m2 and 30 × 10⁻⁴ /m2',
      ],
    ])('%#', (flips, title) => {
      expect(of(flips)).toBe(title);
    });

    test('has the interval and the chance of a flip in the description', () => {
      const open = { ...FLIP, upperSi: null, toldApart: false };
      expect(choiceThresholdChart(madeThreshold(LINES, { flips: [open] })).description).toContain(
        'Best changes from soft to rigid at 2 × 10⁻⁴ /m2 (1 × 10⁻⁴ /m2 to the greatest plausible one); ' +
          'the scenario gives a higher value a chance of 30 %; the trials do not tell the two apart on both sides.',
      );
    });
  });

  test('is sound with open intervals, far set-ups, hard names and a value that does not move', async () => {
    const hard = Object.fromEntries(
      HARD_NAMES.map((name, index) => [name, LINES.soft.map((mean) => mean ** 3 + 2 * index)]),
    );
    const flips = [
      { ...FLIP, lowerSi: null, below: HARD_NAMES[0]!, above: HARD_NAMES[1]! },
      { ...FLIP, upperSi: null, valueSi: 8e-4, toldApart: false },
      { ...FLIP, lowerSi: null, upperSi: null, valueSi: 9e-4 },
    ];
    const svg = await expectSoundChart(
      choiceThresholdChart(madeThreshold(hard, { flips, mix: HARD_NAMES[1]! })),
    );
    expect(shownText(svg)).toContain('money (credits per flight hour), log');
    for (const text of ['flips at 2 (interval: up to 4)', 'may flip at 8 (interval: from 1 on)'])
      expect(shownText(svg).split('\n')).toContain(text);
    const still = madeThreshold({ soft: [0, 0, 0, 0, 0] }, { assumption: 'no.such' }, [2, 2, 2, 2, 2]);
    expect(shownText(await expectSoundChart(choiceThresholdChart(still)))).toContain('no.such (SI units)');
  });

  test('leaves out set-ups that are nowhere near the best, and counts them', async () => {
    const far = { ...LINES, twice: [20, 20, 20, 20, 20], near: [6, 6, 6.2, 6, 6.6] };
    const chart = choiceThresholdChart(madeThreshold(far, { flips: [FLIP] }));
    const svg = await expectSoundChart(chart);
    const names = new Set(rowsWith(chart, 'mean').map(({ name }) => name));
    expect([...names]).toEqual(['soft', 'rigid', 'near']);
    expect(chart.title.subtitle.join(' ')).toContain('1 set-up far behind left out.');
    expect(shownText(svg).split('\n')).not.toContain('twice');
    // One that is always best is drawn with the nearest, however far.
    const alone = madeThreshold({ soft: LINES.soft, twice: far.twice, thrice: [30, 30, 30, 30, 30] });
    const drawn = rowsWith(choiceThresholdChart(alone), 'mean').map(({ name }) => name);
    expect([...new Set(drawn)]).toEqual(['soft', 'twice']);
  });

  describe('the axis of an assumption', () => {
    test('is in the unit of scenarios, log only where values are far apart', () => {
      const wear = valueAxis('assumptions.abradability', [7e-11, 1.4e-10]);
      expect(wear).toMatchObject({ title: 'abradability (mm3/J)', type: 'linear' });
      expect(wear.valueOf(1e-10)).toBe(0.1);
      expect(wear.textOf(1e-10)).toBe('0.1 mm3/J');
      const stones = valueAxis('surfaces.gravel.sharpStones', [1e-5, 2e-3], 3e-4);
      expect([stones.title, stones.valueOf(3e-4), stones.textOf(3e-4)]).toEqual([
        'sharp stones on gravel (10⁻⁴ /m2), log',
        3,
        '3 × 10⁻⁴ /m2',
      ]);
      expect(valueAxis('assumptions.abradability', [1e-11, 1e-10])).toMatchObject({
        title: 'abradability (mm3/J), log',
        type: 'log',
      });
      expect(valueAxis('surfaces.gravel.wearFactor', [1, 2]).title).toBe('wear factor on gravel (a number)');
    });
  });
});
