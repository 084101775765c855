import { describe, expect, test } from 'vitest';
import { priorScore } from '../../lib/chart/fit-scores.js';
import { priorToPosteriorChart } from '../../lib/chart/prior-to-posterior.js';
import { standardNormalQuantile } from '../../lib/numeric/normal.js';
import { UsageError } from '../../lib/problems.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { MADE_PROBABILITIES, madeAssumption, madeFit } from '../support/made-fit.js';
import { HARD_NAMES } from './made-result.js';

describe('the place of a value in its prior', () => {
  const each = madeAssumption('assumptions.abradability', 1e-10, 0, 1);

  test.each(MADE_PROBABILITIES)('is the score of its probability: %d', (probability) => {
    const si = each.quantiles.prior[MADE_PROBABILITIES.indexOf(probability)]!;
    expect(priorScore(each, MADE_PROBABILITIES, si)).toBeCloseTo(standardNormalQuantile(probability), 9);
  });

  test('goes on beyond the quantiles along the law, up to 8', () => {
    expect(priorScore(each, MADE_PROBABILITIES, 1e-10 * Math.exp(0.33 * 5))).toBeCloseTo(5, 6);
    expect(priorScore(each, MADE_PROBABILITIES, 1e-10 * Math.exp(-0.33 * 5))).toBeCloseTo(-5, 6);
    expect(priorScore(each, MADE_PROBABILITIES, 1)).toBe(8);
  });

  test('is told where the end of what is plausible cuts the prior off', () => {
    const cut = each.quantiles.prior.map((si) => Math.min(si, 1e-10));
    const clipped = { ...each, quantiles: { ...each.quantiles, prior: cut } };
    expect(priorScore(clipped, MADE_PROBABILITIES, 1e-10)).toBe(0);
    const fixed = { ...each, quantiles: { ...each.quantiles, prior: cut.map(() => 1e-10) } };
    expect(priorScore(fixed, MADE_PROBABILITIES, 1e-10)).toBe(0);
    expect(priorScore(fixed, MADE_PROBABILITIES, 2e-10)).toBe(8);
  });

  test('a prior by straight values is read along straight values', () => {
    const prior = MADE_PROBABILITIES.map((p) => -0.5 + 2 * standardNormalQuantile(p));
    const straight = { ...each, form: 'normal' as const, quantiles: { ...each.quantiles, prior } };
    expect(priorScore(straight, MADE_PROBABILITIES, 5.5)).toBeCloseTo(3, 6);
  });
});

describe('the chart of what the records taught', () => {
  test('has each number before and after, with its values in natural units and its verdict in a word', async () => {
    const fit = madeFit({ assumptions: 6 });
    const chart = priorToPosteriorChart(fit);
    const svg = await expectSoundChart(chart);
    const rows = chartRows(chart);
    expect(rows.map(({ path }) => path)).toEqual(fit.assumptions.map(({ path }) => path));
    rows.forEach((row, k) => {
      const { scoreMean, scoreDeviation, verdict } = fit.assumptions[k]!;
      // The made-up posteriors are normal in the scores.
      expect(row.priorLow).toBeCloseTo(-1.282, 3);
      expect(row.priorMiddle).toBe(0);
      expect(row.score).toBeCloseTo(scoreMean, 2);
      expect(row.high).toBeCloseTo(scoreMean + 1.2816 * scoreDeviation, 2);
      // Moves of the made-up fit stay within a spread of the prior.
      expect(row.verdict).toBe(verdict);
      expect(row.standing).toBe(verdict);
    });
    expect(chart.title.text.join(' ')).toBe(
      '1 of 5 assumptions learned, 3 barely, 1 not identified; also 1 error size of the readings',
    );
    expect(markLabels(svg).join('\n')).toMatch(
      /abradability: before 0\.1 \(.* to .*\) mm3\/J, after .* mm3\/J, learned/,
    );
    expect(shownText(svg)).toMatch(/error of the groove readings/);
    expect(shownText(svg)).toMatch(/not identified/);
    // A bare place or a number in SI units is not for people.
    expect(shownText(svg)).not.toMatch(/assumptions\.|surfaces\.|e-1\d/);
  });

  test('a number that moved without being narrowed has a word and a mark of its own, and is counted apart', async () => {
    const assumptions = [
      madeAssumption('assumptions.abradability', 1e-10, 1.4, 0.7),
      madeAssumption('assumptions.bandGain', 1.6, -2, 1.04),
      madeAssumption('surfaces.gravel.wearFactor', 2, 0.9, 0.97),
    ];
    const chart = priorToPosteriorChart(madeFit({ change: { assumptions } }));
    const svg = await expectSoundChart(chart);
    expect(chart.title.text.join(' ')).toBe(
      '0 of 3 assumptions learned, 1 barely, 1 moved but not narrowed, 1 not identified',
    );
    const rows = chartRows(chart);
    expect(rows.map(({ verdict }) => verdict)).toEqual([
      'barely learned, moved',
      'moved, not narrowed',
      'not identified',
    ]);
    expect(rows[1]!.spread).toBe('100 % of that before');
    expect(shownText(svg)).toMatch(/moved, not narrowed/);
  });

  test('a move of more than four standard deviations is drawn where it is', async () => {
    const far = madeAssumption('assumptions.abradability', 1e-10, -4.4, 0.5);
    const svg = await expectSoundChart(priorToPosteriorChart(madeFit({ change: { assumptions: [far] } })));
    expect(shownText(svg)).toMatch(/0\.001 %/);
  });

  test.each([1, 40])('%d numbers with hard names', async (assumptions) => {
    await expectSoundChart(priorToPosteriorChart(madeFit({ assumptions, surfaces: HARD_NAMES })));
  });

  test('a value far off what was held for plausible is told, and drawn at the edge', async () => {
    const far = madeAssumption('assumptions.abradability', 1e-10, 6, 0.1);
    const chart = priorToPosteriorChart(madeFit({ change: { assumptions: [far] } }));
    await expectSoundChart(chart);
    expect(chart.title.subtitle.join(' ')).toMatch(/Far from what was held for plausible: abradability\./);
  });

  test('says so where the chains do not agree', () => {
    const { convergence } = madeFit();
    const chart = priorToPosteriorChart(
      madeFit({ change: { convergence: { ...convergence, converged: false } } }),
    );
    expect(chart.title.subtitle.join(' ')).toMatch(/has not converged/);
  });

  test('nothing learned of anything is nothing to draw', () => {
    expect(() => priorToPosteriorChart(madeFit({ change: { assumptions: [] } }))).toThrow(UsageError);
  });
});
