import { describe, expect, test } from 'vitest';
import { probabilityPlotChart } from '../../lib/chart/probability-plot.js';
import { survivalOverlayChart } from '../../lib/chart/survival-overlay.js';
import type { CensoredLife } from '../../lib/estimate/censored-lives.js';
import { fitLife } from '../../lib/estimate/life-fit.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { madeOverlay, madeOverlaySetup } from '../support/made-overlay.js';
import { HARD_NAMES } from './made-result.js';

describe('recorded lives over expected ones', () => {
  test('have the curve of the records and both ranges, and say how often the range holds it', async () => {
    const setup = madeOverlaySetup('soft');
    const chart = survivalOverlayChart(madeOverlay([setup, madeOverlaySetup('rigid', 1)]));
    const svg = await expectSoundChart(chart);
    expect(chart.title.text.join(' ')).toBe(
      'After the fit, recorded lives lie in the 80 % range at 4 of 5 ends',
    );
    const rows = chartRows(chart);
    expect(rows.map(({ landings }) => landings)).toEqual(setup.landings);
    expect(rows.map(({ recorded }) => recorded)).toEqual(
      setup.records.survival.map((share) => (share === null ? null : Number(share.toFixed(4)))),
    );
    expect(rows.map(({ fittedLow }) => fittedLow)).toEqual(
      setup.fitted!.low.map((share) => Number(share!.toFixed(4))),
    );
    expect(shownText(svg)).toMatch(/soft 5 of 8 tires came off \(expected 3 to 6\)/);
    expect(chart.title.subtitle.join(' ')).toMatch(
      /Too few ends for a curve: rigid, 1 of 4 tires came off \(expected 3 to 6\)/,
    );
    expect(markLabels(svg)).toContain('soft after 40 landings: recorded 82 %, expected 76 % to 84 %');
  });

  test('without a fit there is one range', async () => {
    const chart = survivalOverlayChart(madeOverlay([madeOverlaySetup('soft', 5, false)], false));
    const svg = await expectSoundChart(chart);
    expect(shownText(svg)).not.toMatch(/after the fit/);
    expect(chart.title.text.join(' ')).toMatch(/^Before any fit/);
  });

  test('where all have too few ends, the title says so', async () => {
    const chart = survivalOverlayChart(
      madeOverlay([madeOverlaySetup('soft', 0), madeOverlaySetup('rigid', 2)]),
    );
    await expectSoundChart(chart);
    expect(chart.title.text.join(' ')).toBe(
      'Fewer than 3 tires of each set-up came off: only their number is compared',
    );
    expect(chart.concat).toHaveLength(2);
  });

  test('hard names, and more set-ups than can be drawn', async () => {
    const setups = [...HARD_NAMES, ...HARD_NAMES].map((name) => madeOverlaySetup(name));
    const chart = survivalOverlayChart(madeOverlay(setups));
    await expectSoundChart(chart);
    expect(chart.concat).toHaveLength(8);
    expect(chart.title.subtitle.join(' ')).toMatch(/6 set-ups more than can be drawn/);
  });

  test('a curve of many points is drawn in part', async () => {
    const one = madeOverlaySetup('soft');
    const many = Array.from({ length: 4000 }, (_, k) => k);
    const stretch = <Value>(values: readonly Value[]): Value[] =>
      many.map((k) => values[Math.floor(k / 200)]!);
    const stretchBand = (band: typeof one.before): typeof one.before => ({
      low: stretch(band.low),
      middle: stretch(band.middle),
      high: stretch(band.high),
    });
    const setup = {
      ...one,
      landings: many,
      records: {
        survival: stretch(one.records.survival),
        lower: stretch(one.records.lower),
        upper: stretch(one.records.upper),
      },
      before: stretchBand(one.before),
      fitted: stretchBand(one.fitted!),
    };
    const chart = survivalOverlayChart(madeOverlay([setup]));
    await expectSoundChart(chart);
    expect(chartRows(chart).at(-1)!.landings).toBe(3999);
  });

  test('no set-up is nothing to draw', () => {
    expect(() => survivalOverlayChart(madeOverlay([]))).toThrow(UsageError);
  });
});

describe('the probability plot', () => {
  const FAILED = [54, 187, 216, 240, 244, 335, 361, 373, 375, 386];
  /** NIST/SEMATECH e-Handbook of Statistical Methods, 8.2.2.1 (from memory): ten failures, ten units that ran to 500 h. */
  const NIST: CensoredLife[] = [
    ...FAILED.map((at) => ({ from: at, to: at })),
    { from: 500, to: Infinity, count: 10 },
  ];

  test('has a point at the middle of each step of the life curve, and the law with its band', async () => {
    const fit = fitLife(NIST, { law: 'weibull' });
    const chart = probabilityPlotChart(fit, { what: 'twenty units', unit: 'flight hours' });
    const svg = await expectSoundChart(chart, { isDrawn: false });
    const points = chartRows(chart).filter((row) => 'said' in row);
    expect(points.map(({ time }) => time)).toEqual(FAILED);
    // Without censoring before the last failure the steps are twentieths: middles at (i - 1/2) / 20.
    points.forEach(({ y }, k) => {
      expect(y).toBeCloseTo(Math.log(-Math.log(1 - (k + 0.5) / 20)), 3);
    });
    // On these axes the law is straight, of slope shape over the logarithm of time.
    const line = chartRows(chart).filter((row) => row.onPlot === true);
    const [first, last] = [line[0]!, line.at(-1)!];
    const slope =
      ((last.y as number) - (first.y as number)) / Math.log((last.time as number) / (first.time as number));
    expect(slope).toBeCloseTo(fit.parameters!.shape.estimate, 2);
    for (const { low, y, high } of line) {
      expect(low).toBeLessThanOrEqual(y as number);
      expect(high).toBeGreaterThanOrEqual(y as number);
    }
    expect(chart.title.text.join(' ')).toMatch(/^Half last longer than 490 \(.* to .*\) h$/);
    expect(shownText(svg)).toMatch(/10 of 20 lives of twenty units had ended/);
    expect(shownText(svg)).toMatch(/flight hours since new \(h\), log scale/);
    expect(markLabels(svg)).toContain('2.5 % ended by 54.0 h');
  });

  test.each([
    ['weibull', [3, 5, 6, 8, 9], /They wear out/],
    ['weibull', [1, 2, 5, 20, 90, 300], /Early failures/],
    ['weibull', [10, 20, 60, 150], /open \(shape/],
    ['lognormal', [3, 5, 6, 8, 9], /tell both/],
  ] as const)('says what the law tells: %s %j', async (law, times, words) => {
    const chart = probabilityPlotChart(
      fitLife(
        times.map((at) => ({ from: at, to: at })),
        { law },
      ),
      {
        what: HARD_NAMES[1]!,
      },
    );
    await expectSoundChart(chart, { isDrawn: false });
    expect(chart.title.subtitle.join(' ')).toMatch(words);
  });

  test('where the lives tell no law, the points stand alone', async () => {
    const alike: CensoredLife[] = [
      { from: 100, to: 100, count: 3 },
      { from: 50, to: Infinity },
    ];
    const chart = probabilityPlotChart(fitLife(alike, { law: 'weibull' }), { what: 'x' });
    await expectSoundChart(chart, { isDrawn: false });
    expect(chart.title.text.join(' ')).toBe('The lives do not tell a Weibull law');
    expect(chart.title.subtitle.join(' ')).toMatch(/Not identified: all lives could have ended at one time/);
    expect(chartRows(chart)).toHaveLength(1);
  });

  test('no end is nothing to draw', () => {
    const fit = fitLife([{ from: 10, to: Infinity }], { law: 'weibull' });
    expect(() => probabilityPlotChart(fit, { what: 'x' })).toThrow(UsageError);
  });
});
