import { describe, expect, test } from 'vitest';
import { treadFanChart } from '../../lib/chart/tread-fan.js';
import { recordTreadFan } from '../../dist/estimate/record-tread-fan.js';
import type { TreadFan } from '../../dist/estimate/tread-fan.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { HARD_NAMES } from './made-result.js';

const scenario = shippedScenario('mixed-season');
const fan = await recordTreadFan(scenario, { setup: 'rigid 29 shaved', mix: 'sharp rock', trials: 60 });
const titleOf = (shown: TreadFan): string => treadFanChart(shown).title.text.join(' ');

describe('a tread fan', () => {
  test('draws the percentiles of the fan, band by band', () => {
    const rows = chartRows(treadFanChart(fan));
    for (const { landings, centreLeftM, shoulderLeftM } of fan.points) {
      for (const [band, left] of [
        ['centre', centreLeftM],
        ['worst shoulder', shoulderLeftM],
      ] as const) {
        const row = rows.find((each) => each.landings === landings && each.band === band)!;
        expect(row.p10Mm).toBeCloseTo(1000 * left.p10, 3);
        expect(row.p50Mm).toBeCloseTo(1000 * left.p50, 3);
        expect(row.p90Mm).toBeCloseTo(1000 * left.p90, 3);
      }
    }
    const limit = rows.find(({ reading }) => reading === 'tread limit')!;
    expect(limit).toMatchObject({
      leftMm: 3,
      p10Landings: fan.treadLimit.landings.p10,
      p50Landings: fan.treadLimit.landings.p50,
    });
  });

  test('is sound, and says limit, cords and every look', async () => {
    const svg = await expectSoundChart(treadFanChart(fan));
    const labels = markLabels(svg).join('\n');
    const half = Math.round(fan.treadLimit.landings.p50!);
    expect(titleOf(fan)).toContain(`half of the sets reach the tread limit by ${half} landings`);
    expect(labels).toContain(`tread limit: Half of the sets come to it by ${half} landings`);
    expect(labels).toContain('cords: Half of the sets come to it by');
    expect(labels).toContain('centre after 0 landings, 0 h: 7.0 mm');
    expect(labels.match(/worst shoulder after/g)!.length).toBe(fan.points.length);
    expect(shownText(svg)).toContain('tread limit (tires come off)');
    expect(shownText(svg)).toContain('flight hours (h)');
  });

  test('says which band wears ahead', () => {
    const last = fan.points.at(-1)!;
    const swapped = { ...last, centreLeftM: last.shoulderLeftM, shoulderLeftM: last.centreLeftM };
    const even = { ...last, shoulderLeftM: last.centreLeftM };
    const ends = [last, swapped, even].map((end) =>
      titleOf({ ...fan, points: [...fan.points.slice(0, -1), end] }),
    );
    const ahead =
      last.centreLeftM.p50 < last.shoulderLeftM.p50 ? ['centre', 'shoulders'] : ['shoulders', 'centre'];
    expect(ends[0]).toMatch(new RegExp(`the ${ahead[0]!} wears? ahead`));
    expect(ends[1]).toMatch(new RegExp(`the ${ahead[1]!} wears? ahead`));
    expect(ends[2]).toContain('the tread wears evenly');
  });

  test.each(HARD_NAMES)('keeps a hard name inert and whole: %s', async (name) => {
    const svg = await expectSoundChart(treadFanChart({ ...fan, setup: name, mix: name }));
    expect(markLabels(svg).length).toBeGreaterThan(100);
  });
});

describe('a tread fan at the extremes', () => {
  const request = { setup: 'only', mix: 'only', trials: 4 };

  test('of tires that never wear says so', async () => {
    const still = quietScenario({
      assumptions: { abradability: fixed('0 mm3/J') },
      run: { horizon: '1 year' },
    });
    const spec = treadFanChart(await recordTreadFan(still, request));
    await expectSoundChart(spec);
    expect(spec.title.text.join(' ')).toContain('fewer than half of the sets reach the tread limit');
    expect(spec.title.text.join(' ')).toContain('no rubber is worn off');
    expect(spec.title.subtitle.join(' ')).not.toContain('It ends where');
  });

  test('of tires gone in a few landings, flown to the cords and changed there', async () => {
    const fast = quietScenario(
      { assumptions: { abradability: fixed('5 mm3/J') } },
      { tires: { plain: { newTread: '0.5 mm', undertread: '0.1 mm' } }, habits: { removeAt: 'cords' } },
    );
    const spec = treadFanChart(await recordTreadFan(fast, request));
    const svg = await expectSoundChart(spec);
    expect(shownText(svg)).toContain('cords show (tires come off)');
    expect(spec.title.text.join(' ')).toMatch(/by \d landings/);
  });

  test('with the limit at the cords keeps both labels apart', async () => {
    const bald = quietScenario({ tires: { plain: { undertread: '0 mm' } } });
    const spec = treadFanChart(await recordTreadFan(bald, request));
    const svg = await expectSoundChart(spec);
    const heights = [...svg.matchAll(/translate\([\d.]+,([\d.]+)\)[^>]*>(?:tread limit|cords show)/g)];
    expect(heights.length).toBe(2);
    expect(Math.abs(Number(heights[0]![1]) - Number(heights[1]![1]))).toBeGreaterThanOrEqual(14);
  });
});
