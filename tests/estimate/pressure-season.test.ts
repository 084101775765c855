import { describe, expect, test } from 'vitest';
import { pressureSeason } from '../../dist/estimate/pressure-season.js';
import { quantileInterval } from '../../dist/estimate/quantile-interval.js';
import { LOW_READING_SHARE } from '../../dist/simulate/counts.js';
import { recordPressures } from '../../dist/simulate/pressure-histories.js';
import { replay } from '../../dist/simulate/replay.js';
import { UsageError } from '../../dist/problems.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const PSI = 6894.757293168;
/** False-alarm rate of each comparison with simulated quantiles, two-sided. */
const FALSE_ALARM = 1e-4;

const only = { setup: 'only', mix: 'only' };
const month = (name: string, landings: number, temperature: string): Record<string, string> => ({
  month: name,
  landings: String(landings),
  flightHours: '10 h',
  temperature,
});
const setups = (psi: number): Record<string, Record<string, string>> => ({
  only: { mainPressure: `${psi} psi` },
});
const unchecked = { habits: { checkEvery: '366 days', noticedBelow: '0 %' } };

describe('the parts of a pressure', () => {
  // Ideal gas at constant volume: a drop of 50 degF takes 3.83 psi from 25 psi and 2.28 psi from 9 psi set at 59 degF at
  // sea level (worked out from p/T = constant; FAA AC 20-97B has 1 % of absolute pressure per 5 degF, as quoted).
  test.each([
    [25, 3.83],
    [9, 2.28],
  ])('temperature alone: %d psi falls by %d psi over 50 degF', async (psi, drop) => {
    const scenario = quietScenario(unchecked, {
      setups: setups(psi),
      season: { months: [month('July', 1, '59 degF'), month('August', 1, '9 degF')] },
    });
    const season = pressureSeason(scenario, await recordPressures(scenario, { ...only, trials: 2 }));
    const [set, cold] = season.parts;
    expect(set!.justSet).toBe(true);
    expect(set!.temperaturePa).toEqual({ p10: 0, p50: 0, p90: 0 });
    expect(cold!.temperaturePa.p50 / PSI).toBeCloseTo(-drop, 2);
    expect(cold!.temperaturePa.p10).toBeCloseTo(cold!.temperaturePa.p50, 6);
    // The simulated tire does the same.
    expect(season.points[1]!.gaugePa.p50 / PSI).toBeCloseTo(psi - drop, 2);
  });

  // U.S. Standard Atmosphere, 1976: 14.696 psia at sea level, 12.228 at 5000 ft.
  test('elevation alone: ambient pressure of the base less that of the strip', async () => {
    const scenario = quietScenario(unchecked, {
      strips: { high: { like: 'place', elevation: '5000 ft' } },
      mixes: { only: { place: '75 %', high: '25 %' } },
      season: { months: [month('July', 2, '15 degC')] },
    });
    const season = pressureSeason(scenario, await recordPressures(scenario, { ...only, trials: 2 }));
    const { lowest, mean, highest } = season.parts[0]!.elevationPa;
    expect(lowest).toBe(0);
    expect(highest / PSI).toBeCloseTo(14.696 - 12.228, 2);
    expect(mean / highest).toBeCloseTo(0.25, 12);
  });

  // 219 psi less 2 % a day leaves 186.3 psi after 8 days and 143.3 psi after 21 (worked out from the losses that a
  // business-jet bulletin reports); 30 psi less 2 % a day is the same share.
  test('permeation alone: exponential since the tire was set', async () => {
    const scenario = quietScenario(unchecked, {
      assumptions: { tubePermeation: fixed('0.020202707 /day') },
      season: { months: [month('July', 31, '15 degC')] },
    });
    const season = pressureSeason(scenario, await recordPressures(scenario, { ...only, trials: 2 }));
    const left = (days: number): number => 1 + season.parts[days]!.permeationPa / season.coldPa;
    expect(219 * left(8)).toBeCloseTo(186.3, 1);
    expect(219 * left(21)).toBeCloseTo(143.3, 1);
    expect(season.points[21]!.gaugePa.p50 / season.coldPa).toBeCloseTo(left(21), 5);
  });

  test('begin anew at every check', async () => {
    const scenario = quietScenario(
      { habits: { checkEvery: '10 days' } },
      {
        assumptions: { tubePermeation: fixed('5 %/month') },
        season: { months: [month('July', 31, '15 degC')], temperatureSpread: '5 degC' },
      },
    );
    const histories = await recordPressures(scenario, { ...only, trials: 2 });
    const season = pressureSeason(scenario, histories);
    const checked = season.parts.filter(({ justSet }) => justSet).map(({ landing }) => landing);
    expect(checked).toEqual([0, 10, 20, 30]);
    expect(season.checkDays).toEqual([10.5, 20.5, 30.5]);
    for (const { landing, permeationPa, temperaturePa } of season.parts) {
      if (checked.includes(landing)) {
        expect(permeationPa).toBe(0);
        expect(temperaturePa.p90).toBe(0);
      } else {
        expect(permeationPa).toBeLessThan(0);
        expect(temperaturePa.p10).toBeLessThan(0);
        expect(temperaturePa.p90).toBeGreaterThan(0);
      }
    }
  });

  test('by temperature alone have the percentiles that the simulator finds', async () => {
    const scenario = quietScenario(unchecked, {
      season: {
        months: [month('July', 2, '15 degC'), month('August', 2, '-5 degC')],
        temperatureSpread: '8 degC',
      },
    });
    const trials = 2000;
    const histories = await recordPressures(scenario, { ...only, trials });
    const { parts, coldPa } = pressureSeason(scenario, histories);
    for (const { landing, temperaturePa } of parts.slice(1)) {
      const found = Float64Array.from(
        { length: trials },
        (_, trial) => histories.leftMainPa[4 * trial + landing]!,
      );
      found.sort();
      for (const [probability, changePa] of [
        [0.1, temperaturePa.p10],
        [0.5, temperaturePa.p50],
        [0.9, temperaturePa.p90],
      ] as const) {
        const { lower, upper } = quantileInterval(found, probability, 1 - FALSE_ALARM);
        expect(coldPa + changePa).toBeGreaterThanOrEqual(lower!);
        expect(coldPa + changePa).toBeLessThanOrEqual(upper!);
      }
    }
  });
});

describe('the pressure of a season', () => {
  const scenario = shippedScenario('mixed-season');
  const pairing = { setup: 'soft 29 at 9 psi', mix: 'sharp rock' };

  test('has percentiles over trials and landings, dates, and the share that is low', async () => {
    const histories = await recordPressures(scenario, { ...pairing, trials: 30 });
    const season = pressureSeason(scenario, histories);
    expect(season.points[0]!.firstLanding).toBe(1);
    expect(season.points.at(-1)!.lastLanding).toBe(240);
    season.points.forEach(({ firstLanding, lastLanding, gaugePa }, index) => {
      if (index > 0) expect(firstLanding).toBe(season.points[index - 1]!.lastLanding + 1);
      const values: number[] = [];
      for (let trial = 0; trial < 30; trial++) {
        for (let k = firstLanding; k <= lastLanding; k++)
          values.push(histories.leftMainPa[240 * trial + k - 1]!);
      }
      values.sort((a, b) => a - b);
      const at = 0.9 * (values.length - 1);
      const below = Math.floor(at);
      const p90 = values[below]! + (at - below) * (values[Math.ceil(at)]! - values[below]!);
      expect(gaugePa.p90).toBeCloseTo(p90, 6);
      expect(gaugePa.p10).toBeLessThanOrEqual(gaugePa.p50);
    });
    const low = histories.leftMainPa.filter((value) => value < LOW_READING_SHARE * season.coldPa).length;
    expect(season.lowShare).toBe(low / (30 * 240));
    expect(season.lowPa).toBeCloseTo(8.1 * PSI, 6);
    expect(season.months.map(({ name }) => name)).toEqual(['May', 'June', 'July', 'August', 'September']);
    expect(season.points[0]!.date).toBe('1 May');
    expect(season.points.at(-1)!.date).toBe('30 September');
    expect(season.wheel).toBe('left main');
  });

  test('is that of the third wheel where asked, by its place', async () => {
    const tail = shippedScenario('mixed-season', {
      airplanes: { 'reference four-seater': { gear: 'tail' } },
    });
    const histories = await recordPressures(tail, { ...pairing, trials: 4 });
    const season = pressureSeason(tail, histories, 'third');
    expect(season.wheel).toBe('tail');
    expect(season.coldPa).toBeCloseTo(18 * PSI, 6);
    expect(season.points[0]!.gaugePa).not.toEqual(pressureSeason(tail, histories).points[0]!.gaugePa);
    expect(() => pressureSeason(tail, histories, 'nose' as 'third')).toThrow(UsageError);
  });

  test('has the checks that a replayed trial has', async () => {
    const histories = await recordPressures(scenario, { ...pairing, trials: 2 });
    const story = replay(scenario, { trial: 0, ...pairing });
    const checked = story.landings.slice(0, 240).map(({ pressureChecked }) => (pressureChecked ? 1 : 0));
    expect(checked).toEqual(Array.from(histories.checked));
    // Every 14 days from the start of the season: 10 times in 153 days.
    expect(checked.filter((each) => each === 1).length).toBe(10);
  });
});
