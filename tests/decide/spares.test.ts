import fc from 'fast-check';
import seedrandom from 'seedrandom';
import { describe, expect, test } from 'vitest';
import { simulateFleetDemand } from '../../dist/decide/fleet-demand.js';
import { simulate } from '../../dist/simulate/simulate.js';
import type { FleetDemand, ItemDemand } from '../../lib/decide/fleet-types.js';
import { needsOf } from '../../lib/decide/shortages.js';
import { stockSpares } from '../../lib/decide/spares.js';
import { poissonSpares, poissonStock } from '../../lib/estimate/poisson-spares.js';
import { gammaQuantile, poissonCdf } from '../../lib/numeric/special.js';
import { fixed, quietScenario, shippedScenario } from '../support/scenarios.js';

/** Demand for one item of one base, given as days by world and airplane. */
function madeDemand(days: readonly (readonly (readonly number[])[])[], seasonDays = 100): FleetDemand {
  const rows = days.flatMap((airplanes, world) =>
    airplanes.flatMap((list, airplane) => list.map((day) => ({ world, airplane, day }))),
  );
  const item: ItemDemand = {
    base: 'base',
    kind: 'tube',
    tire: 'x',
    fittedTo: ['main'],
    world: Int32Array.from(rows, ({ world }) => world),
    airplane: Int32Array.from(rows, ({ airplane }) => airplane),
    day: Float64Array.from(rows, ({ day }) => day),
  };
  const airplanes = days[0]!.length;
  return { worlds: days.length, airplanes, airplanesAt: { base: airplanes }, seasonDays, items: [item] };
}

/** A Poisson count by inversion. */
function poissonCount(mean: number, uniform: number): number {
  let count = 0;
  while (poissonCdf(count, mean) < uniform) count++;
  return count;
}

/** Four binomial standard errors: false alarm rate 6e-5. */
const near = (share: number, chance: number, trials: number): void => {
  expect(Math.abs(share - chance)).toBeLessThan(4 * Math.sqrt((chance * (1 - chance)) / trials) + 1e-9);
};

describe('four worlds worked by hand: units asked for on days 10 20 30; none; 5 5 100; 50', () => {
  const demand = madeDemand([
    [[10, 30], [20]],
    [[], []],
    [[5], [5, 100]],
    [[], [50]],
  ]);

  test('for the whole season the stock must be 3, 0, 3 and 1', () => {
    const { asked, stockNeeded, stockForUnit } = needsOf(demand.items[0]!, 4, null, true);
    expect(Array.from(asked)).toEqual([3, 0, 3, 1]);
    expect(Array.from(stockNeeded)).toEqual([3, 0, 3, 1]);
    expect(Array.from(stockForUnit)).toEqual([1, 2, 3, 1, 2, 3, 1]);
    const { items } = stockSpares(demand, { serviceLevel: 0.6 });
    // Stocks 0 to 3 serve 1, 2, 2 and 4 worlds of 4.
    expect(items[0]!.steps.slice(0, 4).map(({ service }) => service.estimate)).toEqual([0.25, 0.5, 0.5, 1]);
    expect(items[0]!.stock).toBe(3);
    expect(stockSpares(demand, { serviceLevel: 0.5 }).items[0]!.stock).toBe(1);
    // With one in stock, three of seven units are there; four units in four worlds are not.
    expect(items[0]!.steps[1]).toMatchObject({ filledAtOnce: 3 / 7, unitsAwaited: 1 });
    expect(items[0]!.steps[0]).toMatchObject({ filledAtOnce: 0, unitsAwaited: 7 / 4 });
    expect(items[0]!.demandPerSeason.estimate).toBe(7 / 4);
    // Squares about 1.75: 1.5625 + 3.0625 + 1.5625 + 0.5625 = 6.75; variance 2.25.
    expect(items[0]!.varianceToMean).toBeCloseTo(2.25 / 1.75, 12);
  });

  test('with 15 days to the next one: 2, 0, 2 and 1', () => {
    // Day 20 finds that of day 10 still on order; day 30 finds that of day 20.
    const { stockNeeded, stockForUnit } = needsOf(demand.items[0]!, 4, 15, true);
    expect(Array.from(stockNeeded)).toEqual([2, 0, 2, 1]);
    expect(Array.from(stockForUnit)).toEqual([1, 2, 2, 1, 2, 1, 1]);
  });

  test('what was ordered 10 days ago is there after 10 days', () => {
    expect(Array.from(needsOf(demand.items[0]!, 4, 10, true).stockNeeded)).toEqual([1, 0, 2, 1]);
  });

  test('if worlds differed: airplane 1 takes the next world', () => {
    // World k: airplane 0 of world k, airplane 1 of world k + 1: [10 30], [5 100], [5, 50], [20].
    const { asked, stockNeeded } = needsOf(demand.items[0]!, 4, null, false);
    expect(Array.from(asked)).toEqual([2, 2, 2, 1]);
    expect(Array.from(stockNeeded)).toEqual([2, 2, 2, 1]);
  });

  test('an item nobody asked for needs no stock', () => {
    const [item] = stockSpares(madeDemand([[[]], [[]]])).items;
    expect(item).toMatchObject({ stock: 0, filledAtOnce: null, unitsAwaited: 0, varianceToMean: null });
    expect(item!.ifPoisson.stock).toBe(0);
  });

  test('options out of range are refused', () => {
    expect(() => stockSpares(demand, { serviceLevel: 1 })).toThrow(/serviceLevel is 1/);
    expect(() => stockSpares(demand, { leadTimeDays: 0 })).toThrow(/leadTimeDays is 0/);
  });
});

describe('against closed forms', () => {
  test('rates that differ between worlds: gamma-Poisson predictive of Bayesian Data Analysis', () => {
    // Gelman and others, asthma example (source from memory, numbers recomputed with R): rate gamma(6, 7), exposure 2
    // here two airplanes: P(0) = 0.221377350, P(1) = 0.295169799, P(2) = 0.229576511; mean 1.714285714, variance
    // 2.204081633.
    const random = seedrandom.alea('gamma-Poisson');
    const worlds = 20_000;
    const days = Array.from({ length: worlds }, () => {
      const rate = gammaQuantile(Math.max(random.double(), 1e-12), 6, 1 / 7);
      return [0, 1].map(() =>
        Array.from({ length: poissonCount(rate, random.double()) }, () => random.double()),
      );
    });
    const [item] = stockSpares(madeDemand(days, 1), { serviceLevel: 0.95 }).items;
    const service = item!.steps.map((step) => step.service.estimate);
    near(service[0]!, 0.22137735, worlds);
    near(service[1]!, 0.22137735 + 0.295169799, worlds);
    near(service[2]!, 0.22137735 + 0.295169799 + 0.229576511, worlds);
    const { estimate, standardError } = item!.demandPerSeason;
    expect(Math.abs(estimate - 1.714285714)).toBeLessThan(4 * standardError);
    // Variance to mean: 9 / 7 in one world, 8 / 7 if each airplane had its own; the ratio is known to about 1.3 %.
    expect(Math.abs(item!.varianceToMean! / (9 / 7) - 1)).toBeLessThan(0.05);
    expect(Math.abs(item!.ifWorldsDiffered.varianceToMean! / (8 / 7) - 1)).toBeLessThan(0.05);
  });

  test('a steady rate with resupply: fill rate of the Poisson formula, three stocks', () => {
    // Mean demand in the lead time 1: fill rates 0.367879, 0.735759, 0.919699 (recomputed with R). Seasons of 1000 lead
    // times, so that the first of them, when nothing is on order yet, counts a thousandth.
    const random = seedrandom.alea('resupply');
    const days = Array.from({ length: 60 }, () => {
      const list: number[] = [];
      for (let day = -Math.log(1 - random.double()); day < 1000; day -= Math.log(1 - random.double()))
        list.push(day);
      return [list];
    });
    const demand = madeDemand(days, 1000);
    const { steps, ifPoisson } = stockSpares(demand, { serviceLevel: 0.95, leadTimeDays: 1 }).items[0]!;
    const units = demand.items[0]!.day.length;
    [1, 2, 3].forEach((stock) => {
      const { fillRate } = poissonStock(1, stock);
      // What is on order is shared by units within a lead time of each other; summed over both sides, that makes at
      // most three times the variance of independent units.
      const slack = 4 * Math.sqrt((fillRate * (1 - fillRate) * 3) / units) + 0.001;
      expect(Math.abs(steps[stock]!.filledAtOnce! - fillRate)).toBeLessThan(slack);
    });
    expect(ifPoisson.stock).toBe(poissonSpares(units / 60 / 1000, 0.95).stock);
  });

  test('through the simulator: flats at a steady known rate are Poisson, and the stock is that of the formula', async () => {
    // No wear to speak of and nothing in doubt: every landing has the same small chance of a flat on every wheel.
    const scenario = quietScenario({
      assumptions: { abradability: fixed('0.0001 mm3/J') },
      surfaces: { plain: { sharpStones: fixed('0.01 /m2') } },
      run: { seed: 'steady flats', horizon: '1 year' },
    });
    const airplanes = 3;
    const worlds = 1500;
    const demand = await simulateFleetDemand(scenario, {
      fleet: [{ setup: 'only', mix: 'only', airplanes }],
      worlds,
    });
    const { pairings } = await simulate(scenario, { trials: 2, workers: 1 });
    const mean = airplanes * pairings[0]!.columns.flatsHazard[0]!;
    expect(mean).toBeGreaterThan(0.5);
    const tubes = stockSpares(demand, { serviceLevel: 0.9 }).items.find(({ kind }) => kind === 'tube')!;
    expect(tubes).toMatchObject({ tire: 'plain', fittedTo: ['main', 'third'] });
    tubes.steps.forEach(({ stock, service }) => {
      near(service.estimate, poissonCdf(stock, mean), worlds);
    });
    // The chance of the formula's stock is clear of 90 % by more than the error, so the stocks agree.
    const { stock } = poissonSpares(mean, 0.9);
    const [below, at] = [poissonCdf(stock - 1, mean), poissonCdf(stock, mean)];
    expect(Math.min(at - 0.9, 0.9 - below)).toBeGreaterThan(4 * Math.sqrt(0.09 / worlds));
    expect(tubes.stock).toBe(stock);
    expect(tubes.ifPoisson.stock).toBe(stock);
    expect(tubes.ifWorldsDiffered.stock).toBe(stock);
    expect(Math.abs(tubes.varianceToMean! - 1)).toBeLessThan(4 * Math.sqrt(2 / worlds));
  });

  test('through the simulator: a rate in doubt, shared by the fleet, needs more than a rate of its own for each', async () => {
    const scenario = quietScenario({
      assumptions: { abradability: fixed('0.0001 mm3/J') },
      surfaces: {
        plain: {
          sharpStones: { distribution: 'lognormal', p10: '0.002 /m2', p90: '0.03 /m2', source: 'test' },
        },
      },
      run: { seed: 'doubtful flats', horizon: '1 year' },
    });
    const demand = await simulateFleetDemand(scenario, {
      fleet: [{ setup: 'only', mix: 'only', airplanes: 5 }],
      worlds: 1000,
    });
    const tubes = stockSpares(demand).items.find(({ kind }) => kind === 'tube')!;
    expect(tubes.stock).toBeGreaterThan(tubes.ifWorldsDiffered.stock);
    expect(tubes.ifWorldsDiffered.stock).toBeGreaterThan(tubes.ifPoisson.stock);
    expect(tubes.service.estimate).toBeGreaterThanOrEqual(0.95);
    expect(tubes.ifPoisson.service.upper).toBeLessThan(0.95);
    expect(tubes.varianceToMean!).toBeGreaterThan(tubes.ifWorldsDiffered.varianceToMean!);
  });
});

describe('demand of a fleet', () => {
  const scenario = shippedScenario('mixed-season');

  test('airplanes 0 and 1 have the seasons of the trials and of their twins', async () => {
    const pairing = { setup: 'faired 6.00-6', mix: 'sharp rock' };
    const worlds = 24;
    const demand = await simulateFleetDemand(scenario, {
      fleet: [
        { ...pairing, base: 'north' },
        { ...pairing, base: 'south' },
      ],
      worlds,
    });
    expect(demand).toMatchObject({ worlds, airplanes: 2, airplanesAt: { north: 1, south: 1 } });
    const run = await simulate(scenario, {
      trials: worlds,
      workers: 1,
      pairings: [{ setup: 4, mix: 2 }],
    });
    const count = (base: string, kind: string, tire: string | null, world: number): number =>
      demand.items
        .filter((item) => item.base === base && item.kind === kind && item.tire === tire)
        .reduce((sum, item) => sum + item.world.filter((each) => each === world).length, 0);
    const check = (
      base: string,
      columns: (typeof run.pairings)[number]['columns'],
      row: number,
      world: number,
    ): void => {
      expect(count(base, 'tire', 'standard 6.00-6', world)).toBe(columns.mainsFitted[row]);
      expect(count(base, 'tire', 'nose 5.00-5', world)).toBe(columns.thirdFitted[row]);
      const mainFlats = columns.mainsPunctured[row]! + columns.mainsPressure[row]!;
      expect(count(base, 'tube', 'standard 6.00-6', world)).toBe(mainFlats);
      expect(count(base, 'tube', 'nose 5.00-5', world)).toBe(columns.flats[row]! - mainFlats);
      expect(count(base, 'patch kit', null, world)).toBe(columns.flatsPatched[row]);
    };
    for (let world = 0; world < worlds; world++) {
      check('north', run.pairings[0]!.columns, world, world);
      if (world % 4 === 0) check('south', run.twins[0]!.columns, world / 4, world);
    }
    // Something was asked for of every kind, or the check would be empty.
    expect(new Set(demand.items.filter(({ day }) => day.length > 0).map(({ kind }) => kind)).size).toBe(3);
    // Demand falls on days with landings.
    const { calendar } = scenario;
    for (const { day } of demand.items) {
      for (const each of day) expect(Array.from(calendar.day)).toContain(each);
    }
  });

  test('different airplanes of one base share what fits both', async () => {
    const demand = await simulateFleetDemand(scenario, {
      fleet: [
        { setup: 'rigid 29 deep', mix: 'gravel' },
        { setup: 'rigid 26 deep', mix: 'gravel', airplanes: 2 },
      ],
      worlds: 4,
    });
    expect(demand.items.map(({ kind, tire, fittedTo }) => [kind, tire, ...fittedTo])).toEqual([
      ['tire', 'rigid 29 deep', 'main'],
      ['tire', 'nose 8.50-6', 'third'],
      ['tire', 'rigid 26 deep', 'main'],
      ['tube', 'rigid 29 deep', 'main'],
      ['tube', 'nose 8.50-6', 'third'],
      ['tube', 'rigid 26 deep', 'main'],
      ['patch kit', null, 'main', 'third'],
    ]);
  });

  test('progress is told, a stop is heard, and mistakes are refused', async () => {
    const one = { setup: 'rigid 29 deep', mix: 'gravel' };
    const steps: number[] = [];
    const onProgress = ({ finishedTrials }: { finishedTrials: number }): void => {
      steps.push(finishedTrials);
    };
    await simulateFleetDemand(scenario, { fleet: [one], worlds: 100, onProgress });
    expect(steps[0]).toBe(0);
    expect(steps[steps.length - 1]).toBe(100);
    const stop = new AbortController();
    stop.abort();
    await expect(simulateFleetDemand(scenario, { fleet: [one], signal: stop.signal })).rejects.toThrow(
      /stopped after 0 worlds/,
    );
    const refused = (request: Parameters<typeof simulateFleetDemand>[1], message: RegExp): Promise<void> =>
      expect(simulateFleetDemand(scenario, request)).rejects.toThrow(message);
    await refused({ fleet: [] }, /no airplane in the fleet/);
    await refused({ fleet: [{ ...one, setup: 'rigid 29 deeep' }] }, /did you mean "rigid 29 deep"/);
    await refused({ fleet: [{ ...one, mix: 'grvel' }] }, /did you mean "gravel"/);
    await refused({ fleet: [{ ...one, airplanes: 1.5 }] }, /airplanes is 1.5/);
    await refused({ fleet: [{ ...one, airplanes: 20 }], worlds: 10 }, /at least the number of airplanes, 20/);
    await refused({ fleet: [one], worlds: 1 }, /worlds is 1/);
  });
});

describe('laws', () => {
  const list = fc
    .array(fc.integer({ min: 0, max: 99 }), { maxLength: 5 })
    .map((days) => days.sort((a, b) => a - b));
  const fleet = fc.array(fc.tuple(list, list), { minLength: 2, maxLength: 12 });

  test('more service never takes less stock, a shorter wait never more; service grows with stock', () => {
    const level = fc.double({ min: 0.05, max: 0.99, noNaN: true });
    const wait = fc.integer({ min: 1, max: 100 });
    fc.assert(
      fc.property(fleet, level, level, wait, wait, (days, a, b, c, d) => {
        const demand = madeDemand(days);
        const stock = (serviceLevel: number, leadTimeDays?: number): number =>
          stockSpares(demand, { serviceLevel, leadTimeDays }).items[0]!.stock;
        expect(stock(Math.min(a, b))).toBeLessThanOrEqual(stock(Math.max(a, b)));
        expect(stock(a, Math.min(c, d))).toBeLessThanOrEqual(stock(a, Math.max(c, d)));
        expect(stock(a, 100)).toBe(stock(a));
        const {
          steps,
          service,
          stockRange,
          stock: chosen,
        } = stockSpares(demand, { serviceLevel: a }).items[0]!;
        expect(service.estimate).toBeGreaterThanOrEqual(a);
        expect(stockRange.lower).toBeLessThanOrEqual(chosen);
        expect(stockRange.upper ?? Infinity).toBeGreaterThanOrEqual(chosen);
        steps.slice(1).forEach((step, k) => {
          expect(step.service.estimate).toBeGreaterThanOrEqual(steps[k]!.service.estimate);
          expect(step.unitsAwaited).toBeLessThanOrEqual(steps[k]!.unitsAwaited);
        });
      }),
      { seed: 9, numRuns: 200 },
    );
  });

  test('the stock needed is what playing the season through would show', () => {
    fc.assert(
      fc.property(
        fleet,
        fc.integer({ min: 1, max: 60 }),
        fc.integer({ min: 0, max: 6 }),
        (days, wait, stock) => {
          const { stockNeeded } = needsOf(madeDemand(days).items[0]!, days.length, wait, true);
          days.forEach((airplanes, world) => {
            // Brute force, a day at a time: arrivals in the morning, then what is asked for; a debt may build up.
            const asked = airplanes.flat();
            let shelf = stock;
            let short = false;
            const arrivals = new Map<number, number>();
            for (let day = 0; day < 100; day++) {
              shelf += arrivals.get(day) ?? 0;
              const today = asked.filter((each) => each === day).length;
              shelf -= today;
              if (today > 0) arrivals.set(day + wait, today);
              if (today > 0 && shelf < 0) short = true;
            }
            expect(short).toBe(stockNeeded[world]! > stock);
          });
        },
      ),
      { seed: 10, numRuns: 200 },
    );
  });
});
