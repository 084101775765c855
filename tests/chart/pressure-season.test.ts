import { describe, expect, test } from 'vitest';
import { pressureSeasonChart } from '../../lib/chart/pressure-season.js';
import { pressureSeason, type PressureSeason } from '../../dist/estimate/pressure-season.js';
import { recordPressures } from '../../dist/simulate/pressure-histories.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';
import { chartRows, expectSoundChart, markLabels, shownText } from '../support/charts.js';
import { HARD_NAMES } from './made-result.js';

const PSI = 6894.757293168;
const BAR = 1e5;
const scenario = shippedScenario('mixed-season');
const histories = await recordPressures(scenario, { setup: 'faired 6.00-6', mix: 'gravel', trials: 20 });
const season = pressureSeason(scenario, histories);
const titleOf = (shown: PressureSeason): string => pressureSeasonChart(shown).title.text.join(' ');

describe('a pressure season', () => {
  const rows = chartRows(pressureSeasonChart(season));

  test('draws the percentiles of every stretch, in psi with bar beside', () => {
    for (const { day, date, gaugePa } of season.points) {
      const row = rows.find((each) => each.day === day && 'p50Psi' in each)!;
      expect(row.p10Psi).toBeCloseTo(gaugePa.p10 / PSI, 2);
      expect(row.p50Psi).toBeCloseTo(gaugePa.p50 / PSI, 2);
      expect(row.p90Psi).toBeCloseTo(gaugePa.p90 / PSI, 2);
      expect(row.date).toBe(date);
      expect(row.median).toBe(
        `${(gaugePa.p50 / PSI).toFixed(1)} psi (${(gaugePa.p50 / BAR).toFixed(2)} bar)`,
      );
    }
  });

  test('draws what each influence does, and not a band of air where the tire was just set', () => {
    for (const part of season.parts) {
      const own = rows.filter((row) => row.day === part.day && 'changePsi' in row);
      const by = (name: string): number | undefined =>
        own.find((row) => row.part === name)?.changePsi as number | undefined;
      expect(by('permeation')).toBeCloseTo(part.permeationPa / PSI, 2);
      expect(by('elevation of the strips')).toBeCloseTo(part.elevationPa.mean / PSI, 2);
      if (part.justSet) expect(by('temperature')).toBeUndefined();
      else expect(by('temperature')).toBeCloseTo(part.temperaturePa.p50 / PSI, 2);
    }
  });

  test('is sound, names months and levels, and says every stretch and change', async () => {
    const svg = await expectSoundChart(pressureSeasonChart(season));
    const text = shownText(svg);
    for (const shown of ['May', 'September', 'cold setting 50 psi', 'low: under 45 psi', 'permeation']) {
      expect(text).toContain(shown);
    }
    const labels = markLabels(svg);
    expect(labels.filter((label) => label.includes('8 in 10 landings'))).not.toEqual([]);
    expect(labels.filter((label) => label.includes('permeation alone')).length).toBe(season.parts.length);
    expect(titleOf(season)).toContain('permeation moves it most');
  });

  test('draws the line of no change once, whatever the number of points', async () => {
    const svg = await expectSoundChart(pressureSeasonChart(season));
    expect(season.parts.length).toBeGreaterThan(1);
    const rules = [...svg.matchAll(/<g class="mark-rule role-mark [^>]*>(.*?)<\/g>/gs)].map(
      ([, marks]) => marks!,
    );
    const still = rules.filter((marks) => marks.includes('stroke="#888888"'));
    expect(still.map((marks) => marks.match(/<line /g)!.length)).toEqual([1]);
  });

  test('draws a line at every check', async () => {
    const svg = await expectSoundChart(pressureSeasonChart(season));
    expect(season.checkDays.length).toBe(2);
    expect(svg.match(/stroke-dasharray="1,3"/g)!.length).toBe(2);
  });

  test.each(HARD_NAMES)('keeps a hard name inert: %s', async (name) => {
    await expectSoundChart(pressureSeasonChart({ ...season, setup: name, mix: name }));
  });
});

describe('a pressure season at the extremes', () => {
  const month = (name: string, landings: number, temperature: string): Record<string, string> => ({
    month: name,
    landings: String(landings),
    flightHours: '10 h',
    temperature,
  });
  const seasonOf = async (...changes: Parameters<typeof quietScenario>): Promise<PressureSeason> => {
    const made = quietScenario(...changes);
    return pressureSeason(made, await recordPressures(made, { setup: 'only', mix: 'only', trials: 3 }));
  };

  test('where nothing moves the pressure', async () => {
    const still = await seasonOf({ season: { months: [month('July', 50, '15 degC')] } });
    expect(titleOf(still)).toContain('no landing finds the left main tire low');
    expect(titleOf(still)).toContain('nothing moves it');
    await expectSoundChart(pressureSeasonChart(still));
  });

  test('of one landing, drawn as a point and a bar', async () => {
    const one = await seasonOf({ season: { months: [month('July', 1, '15 degC')] } });
    await expectSoundChart(pressureSeasonChart(one));
  });

  test('over a winter with a month that is not flown, where no line runs', async () => {
    const winter = await seasonOf({
      season: {
        months: [month('December', 8, '-30 degC'), month('February', 8, '-50 degC')],
        temperatureSpread: '30 degC',
      },
      assumptions: { tubePermeation: fixed('60 %/month') },
    });
    expect(winter.months.map(({ name }) => name)).toEqual(['December', 'January', 'February']);
    const svg = await expectSoundChart(pressureSeasonChart(winter));
    expect(shownText(svg)).toContain('January');
    const drawn = chartRows(pressureSeasonChart(winter)).filter((row) => 'p50Psi' in row);
    expect(new Set(drawn.map(({ stretch }) => stretch))).toEqual(new Set([0, 1]));
    expect(titleOf(winter)).toContain('temperature moves it most');
  });

  test('of 40,000 landings over twelve months, checked every day', async () => {
    const names = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September'];
    const all = [...names, 'October', 'November', 'December'];
    const busy = await seasonOf({
      season: { months: all.map((name) => month(name, 3333, '15 degC')), temperatureSpread: '5 degC' },
      habits: { checkEvery: '1 day' },
      run: { horizon: '1 year' },
      airplanes: { 'reference four-seater': { gear: 'tail' } },
    });
    const spec = pressureSeasonChart(busy);
    await expectSoundChart(spec);
    expect(spec.title.subtitle.join(' ')).toContain('Checked every day.');
  });
});
