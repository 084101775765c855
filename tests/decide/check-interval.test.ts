import { describe, expect, it } from 'vitest';
import { checkInterval } from '../../dist/decide/check-interval.js';
import { drawWorlds, landingPlaces } from '../../dist/decide/setup-limits.js';
import type { CheckInterval } from '../../dist/decide/pressure-types.js';
import { normalCdf } from '../../dist/numeric/special.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const PSI_PA = 6894.757293168;
const SEA_LEVEL_PA = 101_325;
/** Two-sided normal multiplier of a false alarm once in 10 000. */
const REACH = 3.891;

type Scenario = ReturnType<typeof quietScenario>;

function ask(scenario: Scenario, setPsi: number, lowPsi: number, share = 0.05, worlds = 50): CheckInterval {
  const { strips } = landingPlaces(scenario);
  return checkInterval(scenario, scenario.setups[0]!, strips, drawWorlds(scenario, worlds), {
    setPa: setPsi * PSI_PA,
    lowPa: lowPsi * PSI_PA,
    share,
  });
}

const months = (...names: string[]): object[] =>
  names.map((month) => ({ month, landings: '300', flightHours: '150 h', temperature: '15 degC' }));

describe('the time between pressure checks', () => {
  const permeation = { assumptions: { tubePermeation: fixed('10 %/month') } };

  it('by hand: 10 % of a month of 365/12 days, from 30 to 28.5 psi', () => {
    // exp(-0.1 t / 30.4167) = 0.95 at t = 15.60 days; landings every 0.031 days, so 15 days keep to it, 16 do not.
    expect((-Math.log(0.95) * (365 / 12)) / 0.1).toBeCloseTo(15.602, 3);
    const scenario = quietScenario(permeation);
    expect(ask(scenario, 30, 28.5)).toMatchObject({
      longestDays: 15,
      presentDays: 14,
      presentShare: 0,
      share: 0.05,
    });
    // At 14 days the reading is 28.65 psi.
    expect(ask(scenario, 30, 28.64).presentShare).toBe(0);
    expect(ask(scenario, 30, 28.66)).toMatchObject({ presentShare: 1, longestDays: 13 });
  });

  it('is none where the tire is set below the range, and open where nothing is lost', () => {
    const scenario = quietScenario();
    expect(ask(scenario, 30, 30.1).longestDays).toBe(0);
    expect(ask(scenario, 30, 29.9)).toMatchObject({ longestDays: null, seasonDays: 30, presentShare: 0 });
  });

  it('counts temperature: both ends of an interval have their own, so the share is a normal probability', () => {
    // Gauge below `low` when T1 / T0 < r = (low + P) / (set + P), T0 and T1 normal with the same mean and spread:
    // T1 - r T0 is normal with mean m (1 - r) and variance s^2 (1 + r^2).
    const scenario = quietScenario({ season: { temperatureSpread: '5 degC' } });
    const [setPa, lowPa] = [30 * PSI_PA, 29 * PSI_PA];
    const r = (lowPa + SEA_LEVEL_PA) / (setPa + SEA_LEVEL_PA);
    const chance = normalCdf((-288.15 * (1 - r)) / (5 * Math.sqrt(1 + r * r)));
    const { presentShare } = ask(scenario, 30, 29, 0.05, 1000);
    // 1000 worlds with 16 settings; those too late in the season for 14 days more are left out.
    const readings = 16_000 * (17 / 31);
    expect(Math.abs(presentShare - chance)).toBeLessThan(
      REACH * Math.sqrt((chance * (1 - chance)) / readings),
    );
  });

  it('counts elevation: readings at a lower place are lower by the difference of the air', () => {
    const base = { season: { baseElevation: '1524 m' } };
    // Set at 84 307 Pa, read at 101 325 Pa: 2.468 psi less (U.S. Standard Atmosphere, 1976).
    const dropPsi = (SEA_LEVEL_PA - 84_307) / PSI_PA;
    expect(dropPsi).toBeCloseTo(2.468, 3);
    expect(ask(quietScenario(base), 30, 30 - dropPsi - 0.01).longestDays).toBeNull();
    expect(ask(quietScenario(base), 30, 30 - dropPsi + 0.01).longestDays).toBe(0);
  });

  it('counts slow leaks, which begin at random: the share is the chance that one began early enough', () => {
    // A leak of 20 % a day takes the tire below 95 % in 0.2565 days, so nearly every leak begun counts.
    const leaks = { slowLeaks: fixed('2 /year'), leakAtStart: fixed('20 %/day') };
    const { presentShare } = ask(quietScenario({ assumptions: leaks }), 30, 28.5, 0.05, 1000);
    const [shortest, longest] = [14, 14.04].map(
      (days) => 1 - Math.exp((-2 * (days + Math.log(0.95) / 0.2)) / 365),
    );
    const readings = 16_000 * (17 / 31);
    const reach = REACH * Math.sqrt((longest! * (1 - longest!)) / readings);
    expect(presentShare).toBeGreaterThan(shortest! - reach);
    expect(presentShare).toBeLessThan(longest! + reach);
  });

  it('counts the growth of leaks: 1 % a day that rises by as much each day takes a quarter in 6.65 days', () => {
    // 0.01 t + 0.005 t^2 = -ln 0.75 at t = 6.651 days.
    const days = (Math.sqrt(0.0001 + 0.02 * -Math.log(0.75)) - 0.01) / 0.01;
    expect(days).toBeCloseTo(6.651, 3);
    const leaks = {
      slowLeaks: fixed('20 /year'),
      leakAtStart: fixed('1 %/day'),
      leakGrowth: fixed('100 %/day'),
    };
    const { presentShare } = ask(quietScenario({ assumptions: leaks }), 30, 22.5, 0.05, 1000);
    const [shortest, longest] = [14, 14.04].map((after) => 1 - Math.exp((-20 * (after - days)) / 365));
    const readings = 16_000 * (17 / 31);
    const reach = REACH * Math.sqrt((longest! * (1 - longest!)) / readings);
    expect(presentShare).toBeGreaterThan(shortest! - reach);
    expect(presentShare).toBeLessThan(longest! + reach);
  });

  it('goes over the turn of the year where the airplane flies all year', () => {
    const year = ['January', 'February', 'March', 'April', 'May', 'June'];
    const rest = ['July', 'August', 'September', 'October', 'November', 'December'];
    const scenario = quietScenario({ season: { months: months(...year, ...rest) as never } }, permeation);
    expect(ask(scenario, 30, 28.5, 0.05, 50)).toMatchObject({ longestDays: 15, seasonDays: 365 });
    const half = quietScenario({ season: { months: months(...year) as never } }, permeation);
    expect(ask(half, 30, 28.5, 0.05, 50).seasonDays).toBe(180);
  });

  it('is shorter for a higher end and a smaller share', () => {
    const scenario = shippedScenario('mixed-season');
    const days = (lowPsi: number, share: number): number =>
      ask(scenario, 9, lowPsi, share, 200).longestDays ?? Infinity;
    expect(days(7.5, 0.05)).toBeLessThanOrEqual(days(7, 0.05));
    expect(days(7, 0.05)).toBeLessThanOrEqual(days(7, 0.2));
    expect(days(7, 0.2)).toBeGreaterThan(0);
  });

  it('finds low readings about as often as the simulated checks do', async () => {
    // The simulation reads at the base and mends what looks soft; both differ little from the model here.
    const { simulate } = await import('../../dist/simulate/simulate.js');
    const { ratioOfSums } = await import('../../dist/estimate/shares.js');
    const scenario = quietScenario({
      assumptions: { slowLeaks: fixed('2 /year'), leakAtStart: fixed('1 %/day') },
      season: { months: months('May', 'June', 'July', 'August') as never, temperatureSpread: '3 degC' },
      habits: { checkEvery: '30 days', noticedBelow: '0 %' },
      run: { horizon: '12 months' },
    });
    const { pairings } = await simulate(scenario, { trials: 400, workers: 1 });
    const { checksLow, checks } = pairings[0]!.columns;
    const seen = ratioOfSums(checksLow, checks);
    const { presentShare } = ask(scenario, 30, 27, 0.05, 1000);
    const modelError = Math.sqrt((presentShare * (1 - presentShare)) / (16_000 * (93 / 123)));
    expect(presentShare).toBeGreaterThan(0.01);
    expect(Math.abs(presentShare - seen.estimate)).toBeLessThan(
      REACH * Math.hypot(seen.standardError, modelError),
    );
  });
});
