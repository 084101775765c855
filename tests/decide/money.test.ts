import { describe, expect, test } from 'vitest';
import { COST_PARTS } from '../../lib/estimate/season-figures.js';
import { moneyOfPairings, type PairingMoney } from '../../lib/decide/money.js';
import { simulate } from '../../dist/simulate/simulate.js';
import { madeRun, scenarioOf } from '../support/made-run.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

const prices = { tube: '100', tireChange: '20', patch: '10', rescue: '1000', downDay: '40' };
const costs = { currency: 'credits', ...prices, source: 'test' };

function priced(found: ReturnType<typeof moneyOfPairings>[number]): PairingMoney {
  if (!found.priced) throw new Error(found.needs);
  return found;
}

describe('ten seasons worked by hand: 100 to 1000 credits, 500 flight hours', () => {
  const scenario = scenarioOf(['a', 'b'], { costs });
  const cost = Array.from({ length: 10 }, (_, k) => 100 * (10 - k));
  const run = madeRun(scenario, {
    a: { cost, mainsFitted: Array<number>(10).fill(1) },
    b: { cost: cost.map(() => 300) },
  });
  const [a, b] = moneyOfPairings(scenario, run).map(priced);

  test('expected value, median, nine in ten, and the worst tenth', () => {
    expect(a!.perSeason.mean.estimate).toBeCloseTo(550, 9);
    // Variance of 1 to 10: 82.5 / 9, in hundreds.
    expect(a!.perSeason.mean.standardError).toBeCloseTo(100 * Math.sqrt(82.5 / 9 / 10), 9);
    // Quantiles of 1 to 10 by type 7 of Hyndman and Fan: 5.5 and 9.1 (R quantile, default).
    expect(a!.perSeason.p50.estimate).toBeCloseTo(550, 9);
    expect(a!.perSeason.p90.estimate).toBeCloseTo(910, 9);
    expect(a!.perSeason.worstTenth.estimate).toBeCloseTo(1000, 9);
  });

  test('per flight hour: a five-hundredth of it', () => {
    expect(a!).toMatchObject({ currency: 'credits', flightHoursPerSeason: 500, trials: 10 });
    expect(a!.perFlightHour.mean.estimate).toBeCloseTo(1.1, 12);
    expect(a!.perFlightHour.p90.estimate).toBeCloseTo(1.82, 12);
    expect(a!.perFlightHour.worstTenth.estimate).toBeCloseTo(2, 12);
  });

  test('parts: one tire changed each season for 20, the rest tires', () => {
    expect(a!.parts.labour.perSeason.estimate).toBeCloseTo(20, 12);
    expect(a!.parts.labour.share.estimate).toBeCloseTo(20 / 550, 12);
    expect(a!.parts.tires.perSeason.estimate).toBeCloseTo(530, 9);
    expect(a!.parts.rescue.perSeason.estimate).toBe(0);
    expect(b!.parts.tires.perFlightHour.estimate).toBeCloseTo(0.6, 12);
    expect(b!.parts.tires.share.estimate).toBeCloseTo(1, 12);
  });

  test('one pairing may be asked for; names that do not exist or were not run are refused', () => {
    expect(moneyOfPairings(scenario, run, { setup: 'b', mix: 'only' })).toEqual([b]);
    expect(() => moneyOfPairings(scenario, run, { setup: 'bb' })).toThrow(/did you mean "b"/);
    expect(() => moneyOfPairings(scenario, run, { mix: 'onlyy' })).toThrow(/did you mean "only"/);
    const partly = madeRun(scenario, { b: { cost: [1, 2] } });
    expect(() => moneyOfPairings(scenario, partly, { setup: 'a' })).toThrow(/"a" was not run on "any mix"/);
    expect(() => moneyOfPairings(scenario, run, { level: 2 })).toThrow(/level is 2/);
  });

  test('without prices it says what is missing, never 0', () => {
    const bare = scenarioOf(['a', 'b']);
    expect(moneyOfPairings(bare, run)[0]).toEqual({
      priced: false,
      setup: 'a',
      mix: 'only',
      needs: 'not priced: needs costs and tire prices',
    });
    const unpriced = scenarioOf(['a', 'b'], { costs, tires: { plain: { price: null } } });
    expect(moneyOfPairings(unpriced, run)[1]).toMatchObject({
      priced: false,
      needs: 'not priced: needs the price of "plain"',
    });
  });
});

test('a season in which nothing varies costs what arithmetic says', async () => {
  // One landing like the other: a main tire loses its depth evenly, until it is worn and both are changed.
  const scenario = quietScenario({
    costs,
    assumptions: { abradability: fixed('0.5 mm3/J') },
    run: { seed: 'even wear', horizon: '3 years' },
  });
  const simulation = await simulate(scenario, { trials: 8, workers: 1 });
  const { columns } = simulation.pairings[0]!;
  const [found] = moneyOfPairings(scenario, simulation).map(priced);
  const life = columns.lifeLandings[0]!;
  const thirdLife = columns.thirdLifeLandings[0]!;
  const landings = scenario.calendar.landingsPerYear;
  const lost = Math.max(columns.centreLostM[0]!, columns.innerLostM[0]!, columns.outerLostM[0]!);
  const { main } = scenario.setups[0]!;
  const wornAtM = scenario.habits.removeAtCords
    ? main.newTreadM + main.undertreadM
    : main.newTreadM - scenario.habits.treadLimitM;
  const changes = Math.floor(landings / life);
  const thirdChanges = Math.floor(landings / thirdLife);
  const used = ((landings - changes * life) * (lost / life)) / wornAtM;
  // The third tire wears evenly too, but its life in parts of a landing is not known: hence the slack below.
  const price = main.price!;
  const mains = price * 2 * (changes + used);
  const thirdUsed = (landings - thirdChanges * thirdLife) / thirdLife;
  const third = price * (thirdChanges + thirdUsed);
  const { parts, perSeason } = found!;
  expect(Math.abs(parts.tires.perSeason.estimate - mains - third)).toBeLessThan(
    (2 * price) / thirdLife + 0.01,
  );
  expect(parts.labour.perSeason.estimate).toBeCloseTo(20 * (2 * changes + thirdChanges), 9);
  expect(parts['lost days'].perSeason.estimate).toBeCloseTo(40 * columns.downDays[0]!, 4);
  expect(parts.rescue.perSeason.estimate).toBe(0);
  expect(parts['tubes and patches'].perSeason.estimate).toBe(0);
  expect(perSeason.p50.estimate).toBeCloseTo(perSeason.mean.estimate, 9);
  expect(perSeason.worstTenth.estimate).toBeCloseTo(perSeason.mean.estimate, 9);
  expect(changes).toBeGreaterThan(0);
  expect(thirdChanges).toBeGreaterThan(0);
});

test('doubling every price doubles every figure of money, and the parts add to the whole', async () => {
  const doubled = {
    costs: { tube: '180', tireChange: '320', patch: '50', rescue: '7000', downDay: '1400' },
    tires: {
      'soft 29': { price: '3800' },
      'rigid 29 deep': { price: '2600' },
      'rigid 29 shaved': { price: '2900' },
      'rigid 26 deep': { price: '2100' },
      'standard 6.00-6': { price: '520' },
      'nose 5.00-5': { price: '440' },
      'nose 8.50-6': { price: '840' },
    },
  };
  const run = async (changes: Parameters<typeof shippedScenario>[1]): Promise<PairingMoney[]> => {
    const scenario = shippedScenario('mixed-season', changes);
    return moneyOfPairings(scenario, await simulate(scenario, { trials: 60, workers: 1 })).map(priced);
  };
  const [once, twice] = [await run({}), await run(doubled)];
  expect(once).toHaveLength(15);
  once.forEach((money, k) => {
    const other = twice[k]!;
    expect(other.perSeason.mean.estimate).toBeCloseTo(2 * money.perSeason.mean.estimate, 8);
    expect(other.perSeason.p90.estimate).toBeCloseTo(2 * money.perSeason.p90.estimate, 8);
    expect(other.perFlightHour.worstTenth.estimate).toBeCloseTo(
      2 * money.perFlightHour.worstTenth.estimate,
      8,
    );
    expect(other.perFlightHour.worstTenth.standardError).toBeCloseTo(
      2 * money.perFlightHour.worstTenth.standardError,
      8,
    );
    let [shares, whole] = [0, 0];
    for (const part of COST_PARTS) {
      expect(other.parts[part].perSeason.estimate).toBeCloseTo(2 * money.parts[part].perSeason.estimate, 3);
      shares += money.parts[part].share.estimate;
      whole += money.parts[part].perSeason.estimate;
    }
    expect(shares).toBeCloseTo(1, 9);
    expect(whole).toBeCloseTo(money.perSeason.mean.estimate, 6);
    const { p50, p90, worstTenth } = money.perSeason;
    expect(p50.estimate).toBeLessThanOrEqual(p90.estimate);
    expect(p90.estimate).toBeLessThanOrEqual(worstTenth.estimate);
  });
});
