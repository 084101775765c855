import { describe, expect, it } from 'vitest';
import { seasonPressures } from '../../dist/decide/season-pressures.js';
import { recordPressures } from '../../dist/simulate/pressure-histories.js';
import { CancelledError, UsageError } from '../../dist/problems.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const PSI_PA = 6894.757293168;
const COLD_PA = 30 * PSI_PA;
/** Pressures are kept in single precision. */
const SINGLE = 2 ** -23;

const request = { setup: 'only', mix: 'only', trials: 8 };

describe('pressures met in a season', () => {
  it('are all the cold setting where nothing changes', async () => {
    const pressures = await seasonPressures(quietScenario(), request);
    for (const each of Object.values(pressures)) expect(Math.abs(each / COLD_PA - 1)).toBeLessThan(SINGLE);
  });

  it('by hand: 10 % of a month, checked every 14 days; the lowest is that before a check', async () => {
    const scenario = quietScenario({ assumptions: { tubePermeation: fixed('10 %/month') } });
    const { mainLowestPa, mainHighestPa, thirdLowestPa } = await seasonPressures(scenario, request);
    // Landings are 0.031 days apart: the last one before a check is at most that much early, or late by the first.
    const after = (days: number): number => COLD_PA * Math.exp((-0.1 * days * 12) / 365);
    expect(mainLowestPa).toBeGreaterThan(after(14.031) * (1 - SINGLE));
    expect(mainLowestPa).toBeLessThan(after(13.969) * (1 + SINGLE));
    expect(mainHighestPa / COLD_PA).toBeCloseTo(1, 3);
    expect(thirdLowestPa).toBe(mainLowestPa);
  });

  it('by hand: a strip 1524 m up adds 101 325 - 84 307 Pa (U.S. Standard Atmosphere, 1976)', async () => {
    const { mainLandedPa } = await seasonPressures(
      quietScenario({ strips: { place: { elevation: '1524 m' } } }),
      request,
    );
    expect(Math.abs(mainLandedPa - COLD_PA - (101_325 - 84_307))).toBeLessThan(1);
  });

  it('spread around the setting in a season of weather and leaks', async () => {
    const scenario = shippedScenario('mixed-season');
    const faired = await seasonPressures(scenario, { setup: 'faired 6.00-6', mix: 'gravel', trials: 60 });
    const open = await seasonPressures(scenario, { setup: 'rigid 29 deep', mix: 'gravel', trials: 60 });
    for (const { mainLowestPa, mainLandedPa, mainHighestPa } of [faired, open]) {
      expect(mainLowestPa).toBeLessThan(mainLandedPa);
      expect(mainHighestPa).toBeGreaterThan(mainLandedPa);
    }
    // Read every 60 days, not every 14.
    expect(faired.mainLowestPa / (50 * PSI_PA)).toBeLessThan(open.mainLowestPa / (25 * PSI_PA));
  });

  it('leave one season in ten lower, and one in ten higher', async () => {
    const scenario = shippedScenario('mixed-season');
    const faired = { setup: 'faired 6.00-6', mix: 'gravel', trials: 60 };
    const { mainLowestPa, mainHighestPa, mainLandedPa, thirdLowestPa } = await seasonPressures(
      scenario,
      faired,
    );
    const { landings, leftMainPa, thirdPa } = await recordPressures(scenario, faired);
    const seasons = (pressures: Float32Array): number[][] =>
      Array.from({ length: 60 }, (_, trial) =>
        Array.from(pressures.subarray(trial * landings, (trial + 1) * landings)),
      );
    const below = (pressures: Float32Array, pa: number): number =>
      seasons(pressures).filter((season) => Math.min(...season) < pa).length;
    expect([below(leftMainPa, mainLowestPa), below(thirdPa, thirdLowestPa)]).toEqual([6, 6]);
    expect(seasons(leftMainPa).filter((season) => Math.max(...season) > mainHighestPa).length).toBe(6);
    expect(leftMainPa.filter((pa) => pa < mainLandedPa).length / leftMainPa.length).toBeCloseTo(0.5, 3);
  });

  it('are those of names that exist, and stop when told', async () => {
    await expect(seasonPressures(quietScenario(), { ...request, setup: 'onyl' })).rejects.toThrow(UsageError);
    const stopped = seasonPressures(quietScenario(), { ...request, signal: AbortSignal.abort() });
    await expect(stopped).rejects.toThrow(CancelledError);
  });
});
