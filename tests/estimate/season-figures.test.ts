import { describe, expect, test } from 'vitest';
import { meanWithInterval, pairedDifference } from '../../lib/estimate/paired.js';
import {
  COST_PARTS,
  costColumns,
  expectedDaysLost,
  expectedSeasonCost,
  missingPrices,
} from '../../lib/estimate/season-figures.js';
import { sampleVariance } from '../../lib/estimate/moments.js';
import { simulate } from '../../dist/simulate/simulate.js';
import { fixed, quietScenario } from '../support/scenarios.js';
import { madeRun, scenarioOf } from '../support/made-run.js';

const prices = {
  tube: '100',
  tireChange: '20',
  patch: '10',
  rescue: '1000',
  downDay: '40',
};
const costs = { currency: 'credits', ...prices, source: 'test' };

describe('a season worked by hand', () => {
  // Two flats happened: one mended, one rescued; 2.75 days lost to them and 0.25 to a planned change. Four tires
  // fitted. Tires cost 1500. Expected along the path: 0.5 flats, 0.1 mended, 0.2 rescued, 0.6 days.
  const scenario = scenarioOf(['a'], { costs });
  const { tube, tireChange, patch, rescue, downDay } = scenario.costs!;
  const happened = 2 * tube + patch + rescue + 2.75 * downDay; // 200 + 10 + 1000 + 110 = 1320
  const planned = 4 * tireChange + 0.25 * downDay; // 80 + 10 = 90
  const run = madeRun(scenario, {
    a: {
      cost: [1500 + planned + happened, 0],
      mainsFitted: [3, 0],
      thirdFitted: [1, 0],
      flats: [2, 0],
      flatsHazard: [0.5, 0],
      tubes: [2, 0],
      tubesHazard: [0.5, 0],
      flatsPatched: [1, 0],
      flatsPatchedHazard: [0.1, 0],
      flatsRescued: [1, 0],
      flatsRescuedHazard: [0.2, 0],
      downDays: [3, 0],
      flatDays: [2.75, 0],
      flatDaysHazard: [0.6, 0],
    },
  });
  const trials = run.pairings[0]!;

  test('prices are those of the file', () => {
    expect([tube, tireChange, patch, rescue, downDay]).toEqual([100, 20, 10, 1000, 40]);
    expect(trials.columns.cost[0]).toBe(2910);
  });

  test('days lost: 3 - 2.75 + 0.6', () => {
    expect(expectedDaysLost(trials)[0]).toBeCloseTo(0.85, 12);
  });

  test('money by part, as it happened and as expected', () => {
    const as = (flats: 'as they happened' | 'as expected'): number[] =>
      COST_PARTS.map((part) => costColumns(scenario.costs!, trials, flats)[part][0]!);
    // tires, labour, tubes and patches, rescue, lost days, longer flights
    expect(as('as they happened')).toEqual([1500, 80, 210, 1000, 120, 0]);
    // 0.5 x 100 + 0.1 x 10 = 51; 0.2 x 1000 = 200; (0.25 + 0.6) x 40 = 34
    const expected = as('as expected');
    [1500, 80, 51, 200, 34, 0].forEach((money, part) => {
      expect(expected[part]).toBeCloseTo(money, 9);
    });
    // 2910 - 1320 + 50 + 1 + 200 + 24
    expect(expectedSeasonCost(scenario.costs!, trials)[0]).toBeCloseTo(1865, 9);
  });
});

test('what is missing for money is named', () => {
  const setup = scenarioOf(['a']).setups[0]!;
  expect(missingPrices({ costs: null }, setup)).toBe('not priced: needs costs and tire prices');
  const priced = scenarioOf(['a'], { costs });
  expect(missingPrices(priced, priced.setups[0]!)).toBeNull();
  const unpriced = scenarioOf(['a'], {
    costs,
    tires: { plain: { price: null } },
  });
  expect(unpriced.setups[0]!.main.price).toBeNull();
  expect(missingPrices(unpriced, unpriced.setups[0]!)).toBe('not priced: needs the price of "plain"');
});

describe('simulated seasons with about two flats, half of them away from help', () => {
  const scenario = quietScenario({
    surfaces: { plain: { sharpStones: fixed('0.04 /m2') } },
    strips: { away: { like: 'place', help: false } },
    mixes: { only: { place: '50 %', away: '50 %' } },
    assumptions: {
      patchChance: {
        distribution: 'uniform',
        min: '20 %',
        max: '80 %',
        source: 'test',
      },
      downDaysRescue: {
        distribution: 'uniform',
        min: '1 days',
        max: '5 days',
        source: 'test',
      },
    },
    costs,
    run: { seed: 'flats of a season', horizon: '1 year' },
  });

  test('what is expected along the paths has the mean of what happened, and less spread', async () => {
    const { pairings } = await simulate(scenario, { trials: 2000, workers: 1 });
    const { columns } = pairings[0]!;
    const flats = meanWithInterval(columns.flats);
    expect(flats.estimate).toBeGreaterThan(1);
    expect(flats.estimate).toBeLessThan(4);
    // Paired differences within 4.5 standard errors: false alarm rate 7e-6 each.
    const agree = (happened: ArrayLike<number>, expected: ArrayLike<number>): void => {
      const { estimate, standardError } = pairedDifference(happened, expected);
      expect(standardError).toBeGreaterThan(0);
      expect(Math.abs(estimate)).toBeLessThan(4.5 * standardError);
    };
    agree(columns.flats, columns.flatsHazard);
    agree(columns.tubes, columns.tubesHazard);
    agree(columns.flatsPatched, columns.flatsPatchedHazard);
    agree(columns.flatsRescued, columns.flatsRescuedHazard);
    agree(columns.flatDays, columns.flatDaysHazard);
    agree(columns.downDays, expectedDaysLost(pairings[0]!));
    const expectedCost = expectedSeasonCost(scenario.costs!, pairings[0]!);
    agree(columns.cost, expectedCost);
    expect(sampleVariance(columns.flatDaysHazard)).toBeLessThan(0.5 * sampleVariance(columns.flatDays));
    expect(sampleVariance(expectedCost)).toBeLessThan(sampleVariance(columns.cost));
    // Every flat away from help is either mended or rescued.
    const kinds = columns.flatsPatched.map((count, row) => count + columns.flatsRescued[row]!);
    kinds.forEach((away, row) => {
      expect(away).toBeLessThanOrEqual(columns.flats[row]!);
    });
    expect(kinds.some((away) => away > 1)).toBe(true);
  });

  test('the parts are those of a season paid by hand from its counts', async () => {
    const { pairings } = await simulate(scenario, { trials: 50, workers: 1 });
    const { columns } = pairings[0]!;
    const price = scenario.setups[0]!.main.price!;
    const parts = costColumns(scenario.costs!, pairings[0]!, 'as they happened');
    columns.cost.forEach((cost, row) => {
      const whole = COST_PARTS.reduce((sum, part) => sum + parts[part][row]!, 0);
      expect(whole).toBeCloseTo(cost, 6);
      const fitted = columns.mainsFitted[row]! + columns.thirdFitted[row]!;
      expect(parts.labour[row]).toBe(20 * fitted);
      expect(parts.rescue[row]).toBe(1000 * columns.flatsRescued[row]!);
      // Tires that came off in full, and at most all of the three that are still on.
      expect(parts.tires[row]).toBeGreaterThanOrEqual(price * fitted - 1e-3);
      expect(parts.tires[row]).toBeLessThanOrEqual(price * (fitted + 3) + 1e-3);
      expect(parts['lost days'][row]).toBeCloseTo(40 * columns.downDays[row]!, 3);
    });
  });
});

test('a flat of a tubeless tire takes no tube', async () => {
  const season = (main: string, third: string) =>
    quietScenario({
      surfaces: { plain: { sharpStones: fixed('0.04 /m2') } },
      tires: { sealed: { like: 'plain', seal: 'tubeless' } },
      setups: {
        only: {
          mainTire: main,
          mainPressure: '30 psi',
          thirdTire: third,
          thirdPressure: '30 psi',
        },
      },
      assumptions: { valveTearChance: fixed('0 %') },
      costs,
      run: { seed: 'sealed', horizon: '1 year' },
    });
  for (const [main, third] of [
    ['plain', 'plain'],
    ['sealed', 'sealed'],
    ['sealed', 'plain'],
    ['plain', 'sealed'],
  ] as const) {
    const scenario = season(main, third);
    const { pairings } = await simulate(scenario, { trials: 100, workers: 1 });
    const { columns } = pairings[0]!;
    const parts = costColumns(scenario.costs!, pairings[0]!, 'as they happened');
    const of = (wheels: readonly string[]): boolean => wheels.every((tire) => tire === 'plain');
    columns.tubes.forEach((tubes, row) => {
      // Flats of main tires by what ended them; the others are those of the third wheel.
      const onMains = columns.mainsPunctured[row]! + columns.mainsPressure[row]!;
      const onThird = columns.flats[row]! - onMains;
      expect(tubes).toBe((of([main]) ? onMains : 0) + (of([third]) ? onThird : 0));
      expect(parts['tubes and patches'][row]).toBeCloseTo(100 * tubes + 10 * columns.flatsPatched[row]!, 9);
      expect(parts.tires[row]).toBeGreaterThanOrEqual(-1e-6);
    });
    const { estimate, standardError } = pairedDifference(columns.tubes, columns.tubesHazard);
    expect(Math.abs(estimate)).toBeLessThanOrEqual(4.5 * standardError);
    expect(columns.tubes.some((tubes) => tubes > 0)).toBe(of([main]) || of([third]));
  }
});

test('with nothing in doubt the expected consequences follow from the chance of a flat', async () => {
  // One strip in four is away from help; there 30 % are mended in 0.5 days, 70 % rescued in 2; 0.5 days at base.
  const scenario = quietScenario({
    surfaces: { plain: { sharpStones: fixed('0.01 /m2') } },
    strips: { away: { like: 'place', help: false } },
    mixes: { only: { place: '75 %', away: '25 %' } },
    assumptions: {
      abradability: fixed('0.0001 mm3/J'),
      patchChance: fixed('30 %'),
    },
    run: { seed: 'consequences', horizon: '1 year' },
  });
  const { pairings } = await simulate(scenario, { trials: 40, workers: 1 });
  const { columns } = pairings[0]!;
  columns.flatsHazard.forEach((flats, row) => {
    const patched = columns.flatsPatchedHazard[row]!;
    const rescued = columns.flatsRescuedHazard[row]!;
    expect(patched / (patched + rescued)).toBeCloseTo(0.3, 12);
    const days = (flats - patched - rescued) * 0.5 + patched * 0.5 + rescued * 2;
    expect(columns.flatDaysHazard[row]).toBeCloseTo(days, 9);
    // Every landing has the same chance, whatever the strip: 1000 landings, a quarter of them away give or take
    // 4.5 binomial standard errors (false alarm rate 7e-6 a trial).
    const away = (patched + rescued) / flats;
    expect(Math.abs(away - 0.25)).toBeLessThan(4.5 * Math.sqrt((0.25 * 0.75) / 1000));
  });
});
