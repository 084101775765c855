import { beforeAll, describe, expect, test } from 'vitest';
import { fitAssumptions, NotConvergedError } from '../../dist/calibrate/posterior.js';
import type { AssumptionFit } from '../../dist/calibrate/posterior-types.js';
import { medianWorld } from '../../dist/simulate/world.js';
import { priorToPosteriorChart } from '../../lib/chart/prior-to-posterior.js';
import { fewGroups, REST } from '../../lib/chart/fit-groups.js';
import { thinned } from '../../lib/chart/fit-thinning.js';
import { predictedReadingsChart } from '../../lib/chart/predicted-readings.js';
import { pressuresFoundChart } from '../../lib/chart/pressures-found.js';
import { readingResidualsChart } from '../../lib/chart/reading-residuals.js';
import { percentText } from '../../lib/present/words.js';
import { UsageError } from '../../lib/problems.js';
import { MOST_ROWS } from '../../lib/chart/spec.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { doubtedScenario, inventLog } from '../support/invented-records.js';
import { madeFit } from '../support/made-fit.js';
import { HARD_NAMES } from './made-result.js';

const HARD = { surfaces: HARD_NAMES, tires: HARD_NAMES };
const NONE = { tires: [], heldOut: 0 };

describe('thinning', () => {
  test('keeps the shares of what comes first in the order, and says which of how many', () => {
    const rows = Array.from({ length: 4000 }, (_, k) => ({ band: ['a', 'b', 'c', 'd'][k % 4]!, k }));
    const { kept, every } = thinned(rows, 1500, ({ band, k }) => [band, k]);
    expect(every).toBe(3);
    expect(kept).toHaveLength(1334);
    for (const band of ['a', 'b', 'c', 'd']) {
      const share = kept.filter((row) => row.band === band).length / kept.length;
      expect(Math.abs(share - 0.25)).toBeLessThan(0.01);
    }
    expect(thinned(rows, 4000, () => [0]).kept).toHaveLength(4000);
  });

  test('few groups keep the most frequent names', () => {
    const { names, placeOf } = fewGroups(['x', 'y', 'y', 'z', 'z', 'z', 'w'], 3);
    expect(names).toEqual(['z', 'y', REST]);
    expect(['z', 'y', 'x', 'w'].map(placeOf)).toEqual([0, 1, 2, 2]);
    expect(fewGroups(['x', 'y'], 2).names).toEqual(['x', 'y']);
  });
});

describe('readings against what was expected', () => {
  test('each has its depth, its range and whether that holds it; held-out ones stand apart', async () => {
    const fit = madeFit();
    const chart = predictedReadingsChart(fit);
    const svg = await expectSoundChart(chart);
    const panels = chart.hconcat as { data: { values: Record<string, unknown>[] } }[];
    expect(panels).toHaveLength(2);
    const held = fit.checks.readings.filter(({ heldOut }) => heldOut);
    expect(panels[1]!.data.values).toHaveLength(held.length);
    const [reading] = held;
    const row = panels[1]!.data.values.find(
      ({ measured }) => measured === Number((1000 * reading!.grooveM).toFixed(3)),
    )!;
    expect(row.expected).toBeCloseTo(1000 * reading!.expectedM, 3);
    expect(row.low).toBeCloseTo(1000 * reading!.lowM, 3);
    const inside = held.filter((each) => each.grooveM >= each.lowM && each.grooveM <= each.highM).length;
    expect(panels[1]!.data.values.filter((each) => each.inside === true)).toHaveLength(inside);
    expect(chart.title.text.join(' ')).toMatch(
      new RegExp(
        `80 % ranges hold ${Math.round((100 * inside) / held.length)} % \\(.*\\) of 12 held-out readings`,
      ),
    );
    expect(shownText(svg)).toMatch(/groove read \(mm\)/);
    expect(markLabels(svg).some((label) => /CED-L1, .*: read .* mm, expected/.test(label))).toBe(true);
  });

  test('without held-out readings there is one panel', async () => {
    const chart = predictedReadingsChart(madeFit({ heldOut: 0 }), { by: 'band' });
    expect(chart.hconcat).toHaveLength(1);
    expect(shownText(await expectSoundChart(chart))).toMatch(/outer shoulder/);
  });

  test('a tire of which nothing was known does not count', () => {
    const fit = madeFit({ heldOut: 0 });
    const open = fit.checks.readings.map((each) =>
      each.tire === 'ALD-L1' ? { ...each, lowM: 0, expectedM: 0.004, highM: 0.016 } : each,
    );
    const chart = predictedReadingsChart({ ...fit, checks: { ...fit.checks, readings: open } });
    const drawn = chartRows(chart).filter((row) => 'tire' in row);
    expect(drawn).toHaveLength(open.length - 12);
    expect(chart.title.subtitle.join(' ')).toMatch(/12 readings left out/);
    expect(chart.title.text.join(' ')).toMatch(/of 48 fitted readings/);
  });

  test('thousands of readings and hard names are drawn in part, and counted whole', async () => {
    const chart = predictedReadingsChart(madeFit({ ...HARD, readingsPerTire: 450 }));
    await expectSoundChart(chart);
    expect(chart.title.subtitle.join(' ')).toMatch(
      /Drawn: every third of them, in order of surface, band, tire/,
    );
    expect(chart.title.text.join(' ')).toMatch(/of 450 held-out/);
    expect(chartRows(chart).length).toBeLessThanOrEqual(MOST_ROWS);
  });

  test('no reading is nothing to draw', () => {
    expect(() => predictedReadingsChart(madeFit(NONE))).toThrow(UsageError);
    expect(() => readingResidualsChart(madeFit(NONE))).toThrow(UsageError);
    expect(() => pressuresFoundChart(madeFit({ pressures: 0 }))).toThrow(UsageError);
  });
});

describe('how far readings are off', () => {
  test('has a panel for each surface, with the share that the band holds', async () => {
    const fit = madeFit();
    const chart = readingResidualsChart(fit);
    const svg = await expectSoundChart(chart);
    const gravel = fit.checks.readings.filter(({ surface }) => surface === 'gravel');
    const held = gravel.filter(({ stepwiseOffBy }) => Math.abs(stepwiseOffBy) <= 1.2815515655446004).length;
    expect(shownText(svg)).toMatch(
      new RegExp(
        `gravel ${Math.round((100 * held) / gravel.length)} % \\(.*\\) of ${gravel.length} readings held`,
      ),
    );
    expect(chart.vconcat).toHaveLength(3);
    expect(chartRows(chart).filter((row) => 'off' in row)).toHaveLength(fit.checks.readings.length);
  });

  test('tires that do not fit are named, once in a panel', async () => {
    const fit = madeFit({ surfaces: ['gravel'] });
    const readings = fit.checks.readings.map((each, k) =>
      each.tire === 'BIR-L1' ? { ...each, stepwiseOffBy: k % 2 === 0 ? 7 : -4 } : each,
    );
    const tires = fit.checks.tires.map((each) => ({ ...each, flagged: each.tire === 'BIR-L1' }));
    const chart = readingResidualsChart({ ...fit, checks: { ...fit.checks, readings, tires } });
    const shown = shownText(await expectSoundChart(chart));
    expect(shown.split('\n').filter((text) => text === 'BIR-L1')).toHaveLength(1);
    expect(shown).toMatch(/Readings of BIR-L1 do not fit the others/);
    expect(chart.description).toMatch(/12 readings beyond 3.5 standard deviations/);
    const drawn = chartRows(chart).filter((row) => row.tire === 'BIR-L1' && !('isLeft' in row));
    expect(new Set(drawn.map((row) => row.beyond))).toEqual(new Set(['up', 'no']));
  });

  test.each(['landings', 'date'] as const)('hard names and thousands of readings over %s', async (over) => {
    const chart = readingResidualsChart(madeFit({ ...HARD, readingsPerTire: 450, scatter: 2 }), { over });
    await expectSoundChart(chart);
    expect(chart.title.subtitle.join(' ')).toMatch(/every third of them/);
  });
});

describe('pressures found', () => {
  test('stand in tenths of the chance of a lower one', async () => {
    const fit = madeFit({ pressures: 200 });
    const chart = pressuresFoundChart(fit);
    const svg = await expectSoundChart(chart);
    const rows = chartRows(chart).filter((row) => 'lower' in row);
    expect(rows).toHaveLength(10);
    rows.forEach(({ share, lower, upper }, bin) => {
      const count = fit.checks.pressures.filter(
        ({ chanceBelow }) => chanceBelow >= bin / 10 && chanceBelow < (bin + 1) / 10,
      ).length;
      expect(share).toBeCloseTo(count / 200, 4);
      expect(lower).toBeLessThanOrEqual(share as number);
      expect(upper).toBeGreaterThanOrEqual(share as number);
    });
    expect(shownText(svg)).toMatch(/chance that the fit gave to a lower pressure \(%\)/);
  });

  test('a sure chance is in the last tenth', () => {
    const fit = madeFit({ pressures: 10 });
    const pressures = fit.checks.pressures.map((each) => ({ ...each, chanceBelow: 1 }));
    const rows = chartRows(pressuresFoundChart({ ...fit, checks: { ...fit.checks, pressures } }));
    expect(rows.filter((row) => 'lower' in row).at(-1)!.share).toBe(1);
  });

  test('fewer than ten make no histogram', () => {
    expect(() => pressuresFoundChart(madeFit({ pressures: 9 }))).toThrow(
      'the records hold only 9 pressures to expect; fewer than 10 make no histogram',
    );
    expect(() => pressuresFoundChart(madeFit({ pressures: 0 }))).toThrow('no pressure to expect');
  });
});

describe('a real fit', () => {
  const scenario = doubtedScenario();
  const log = inventLog(
    scenario,
    medianWorld(scenario),
    {
      airplanes: 2,
      landingsPerDay: 4,
      days: 60,
      readEvery: 20,
      errorM: 0.0003,
      wornSpreadM: 0.0005,
      checkEvery: 10,
      pressureErrorPa: 3000,
    },
    'charts of a fit',
  );
  let fit: AssumptionFit;

  beforeAll(async () => {
    try {
      fit = await fitAssumptions(scenario, log, {
        heldOut: [log.tires[0]!.id],
        newGrooveSpreadM: 0,
        pressureErrorPa: 3000,
        chains: 2,
        effectiveSize: 50,
        mostDraws: 600,
      });
    } catch (error) {
      // For charts it does not matter whether so few draws agree.
      if (!(error instanceof NotConvergedError)) throw error;
      fit = error.fit;
    }
  }, 60_000);

  test('is drawn in all charts', async () => {
    const taught = priorToPosteriorChart(fit);
    await expectSoundChart(taught);
    expect(chartRows(taught)).toHaveLength(fit.assumptions.length);
    for (const { priorLow, priorHigh } of chartRows(taught)) {
      expect(priorLow).toBeCloseTo(-1.282, 2);
      expect(priorHigh).toBeCloseTo(1.282, 2);
    }
    const readings = fit.checks.readings.length;
    expect(readings).toBeGreaterThan(10);
    const predicted = predictedReadingsChart(fit);
    await expectSoundChart(predicted);
    // Chart and check count the same readings.
    const { held, of } = fit.checks.calibration.find(({ what }) => what.startsWith('held-out'))!;
    expect(predicted.title.text.join(' ')).toContain(`80 % ranges hold ${percentText(held / of)} (`);
    expect(chartRows(predicted).filter((row) => 'tire' in row)).toHaveLength(readings);
    expect(predicted.hconcat).toHaveLength(2);
    await expectSoundChart(readingResidualsChart(fit));
    await expectSoundChart(pressuresFoundChart(fit));
  });
});
