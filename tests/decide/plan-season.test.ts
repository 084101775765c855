import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { planSeason } from '../../dist/decide/plan-season.js';
import { CancelledError, ScenarioError, UsageError } from '../../dist/problems.js';
import { readScenario } from '../../dist/scenario/read.js';

type Scenario = ReturnType<typeof readScenario>['scenario'];
type Changes = Record<string, unknown>;

const file = fileURLToPath(new URL('../../scenarios/two-gear-sets.json', import.meta.url));
const scenarioWith = (changes: Changes = {}): Scenario => readScenario(file, changes).scenario;

const fleetOf = (airplanes: Changes): Changes => ({
  fleet: { airplanes: { 'bush runner': null, 'town runner': null, ...airplanes } },
});
const BUSH = {
  mix: 'paved winter, rough summer',
  gearSets: ['faired 6.00-6', 'rigid 29 deep'],
};
const TRIALS = 60;
const plan = await planSeason(scenarioWith(), { trials: TRIALS });

describe('plans of the shipped fleet', () => {
  test('are all of them, best first', () => {
    for (const { plans, possible, complete } of plan.airplanes) {
      // Two sets in five stretches.
      expect([plans.length, possible, complete]).toEqual([32, 32, true]);
      const money = plans.map(({ money: m }) => m!.perSeason.estimate);
      expect(money).toEqual([...money].sort((a, b) => a - b));
      expect(plans[0]!.versusBest).toMatchObject({ estimate: 0, standardError: 0 });
      expect(plans.reduce((sum, { bestShare }) => sum + bestShare, 0)).toBeCloseTo(1, 9);
    }
  });

  test('pay each change in labour and lost days, a set that comes off goes on again', () => {
    for (const { plans } of plan.airplanes) {
      for (const { changes, money, legs, setupOfMonth } of plans) {
        expect(money!.changes).toBeCloseTo(changes * (420 + 0.5 * 700), 9);
        expect(legs.flatMap(({ months }) => months)).toHaveLength(12);
        const around = setupOfMonth.filter((setup, index) => setup !== setupOfMonth[(index + 11) % 12]);
        expect(around).toHaveLength(changes);
      }
    }
  });

  test('charge draggy gear for its hours: hours x 6 % / 94 % x 190', () => {
    for (const { plans } of plan.airplanes) {
      for (const { legs, money } of plans) {
        const hours = legs
          .filter(({ setup }) => setup === 'rigid 29 deep')
          .reduce((sum, { flightHours }) => sum + flightHours, 0);
        expect(money!.cruise).toBeCloseTo((hours * 0.06 * 190) / 0.94, 6);
      }
    }
  });

  test('break even where the saving before changes would just pay them', () => {
    const [bush, town] = plan.airplanes;
    for (const { breakEvens, plans } of [bush!, town!]) {
      expect(breakEvens.map(({ staying }) => staying).sort()).toEqual(['faired 6.00-6', 'rigid 29 deep']);
      for (const { saving, payFrom, otherLandings, withChanges } of breakEvens) {
        if (payFrom === null) continue;
        const paid = plans.find(({ name }) => name === withChanges)!.money!.changes;
        // At that many landings the saving, in proportion, is what the changes take.
        expect(((saving.estimate + paid) * payFrom.estimate) / otherLandings).toBeCloseTo(paid, 6);
        expect(payFrom.estimate < otherLandings).toBe(saving.estimate > 0);
        expect(payFrom.lower).toBeLessThanOrEqual(payFrom.estimate);
        expect(payFrom.upper).toBeGreaterThanOrEqual(payFrom.estimate);
      }
    }
  });

  test('add up to the fleet', () => {
    expect(plan.totals.airplanes).toBe(3);
    const best = plan.airplanes.map(({ plans, count }) => ({ count, money: plans[0]!.money!.perSeason }));
    const sum = best.reduce((total, { count, money }) => total + count * money.estimate, 0);
    // Worlds are shared, so errors may add up fully; the best of several is a little low. 4 standard errors.
    const error = best.reduce((total, { count, money }) => total + count * money.standardError, 0);
    const totals = plan.totals.money!;
    expect(Math.abs(totals.perSeason.estimate - sum)).toBeLessThan(
      4 * (error + totals.perSeason.standardError),
    );
    expect(totals.worstTenth.estimate).toBeGreaterThanOrEqual(totals.p90.estimate);
  });

  test('are the same for the same seed', async () => {
    expect(await planSeason(scenarioWith(), { trials: TRIALS })).toEqual(plan);
  });
});

describe('plans in a world of their own', () => {
  test('doubling every price doubles all money and leaves the order as it is', async () => {
    const { costs } = scenarioWith();
    const tires = scenarioWith().tires;
    const doubled = await planSeason(
      scenarioWith({
        costs: Object.fromEntries(
          Object.entries(costs!)
            .filter(([, value]) => typeof value === 'number')
            .map(([name, value]) => [name, String(2 * Number(value))]),
        ),
        tires: Object.fromEntries(
          Object.entries(tires).flatMap(([name, { price }]) =>
            price === undefined ? [] : [[name, { price: String(2 * price) }]],
          ),
        ),
        fleet: { swap: { price: '840' } },
      }),
      { trials: TRIALS },
    );
    plan.airplanes.forEach(({ plans }, index) => {
      plans.forEach(({ name, money, versusBest }, rank) => {
        const twice = doubled.airplanes[index]!.plans[rank]!;
        expect(twice.name).toBe(name);
        expect(twice.money!.perSeason.estimate / money!.perSeason.estimate).toBeCloseTo(2, 9);
        expect(twice.versusBest.estimate).toBeCloseTo(2 * versusBest.estimate, 6);
      });
    });
  });

  test('one gear set has one plan and no break-even', async () => {
    const one = await planSeason(scenarioWith(fleetOf({ one: { ...BUSH, gearSets: ['rigid 29 deep'] } })), {
      trials: 20,
    });
    expect(one.airplanes[0]!.plans.map(({ name }) => name)).toEqual(['rigid 29 deep all season']);
    expect(one.airplanes[0]!.breakEvens).toEqual([]);
  });

  test('fewer simulated plans find the best one too, and say how they searched', async () => {
    const few = await planSeason(scenarioWith(), { trials: TRIALS, mostPlans: 20 });
    few.airplanes.forEach(({ plans, complete, search }, index) => {
      expect(complete).toBe(false);
      expect(search).toMatch(/of 32 plans simulated .*dynamic programming/u);
      expect(plans[0]).toEqual({ ...plan.airplanes[index]!.plans[0]!, bestShare: plans[0]!.bestShare });
      expect(plans.length).toBeLessThanOrEqual(20);
    });
  });

  test('without prices they are chosen by days lost', async () => {
    const free = await planSeason(scenarioWith({ costs: null }), { trials: 20 });
    expect([free.criterion, free.currency]).toEqual(['daysLost', null]);
    expect(free.needs).toMatch(/needs costs and tire prices/u);
    expect(free.totals.money).toBeNull();
    await expect(
      planSeason(scenarioWith({ costs: null }), { trials: 20, criterion: 'cost' }),
    ).rejects.toThrow(/chosen by money/u);
  });

  test('a price of a change or of drag that is missing is named', async () => {
    const noDrag = await planSeason(scenarioWith({ costs: { flightHour: null } }), { trials: 4 });
    expect(noDrag.needs).toMatch(/costs.flightHour/u);
    const noSwap = await planSeason(scenarioWith({ fleet: { swap: { price: null } } }), { trials: 4 });
    expect(noSwap.needs).toMatch(/fleet.swap.price/u);
  });

  test('no more changes than allowed', async () => {
    const still = await planSeason(scenarioWith({ fleet: { swap: { most: '0' } } }), { trials: 10 });
    expect(still.airplanes[0]!.plans.map(({ changes }) => changes)).toEqual([0, 0]);
  });
});

describe('what cannot be planned', () => {
  test('a scenario without a fleet, trials out of range', async () => {
    await expect(planSeason(scenarioWith({ fleet: null }))).rejects.toThrow(UsageError);
    await expect(planSeason(scenarioWith(), { trials: 1 })).rejects.toThrow(/from 2 to/u);
    await expect(planSeason(scenarioWith(), { mostPlans: 1 })).rejects.toThrow(/from 2 to/u);
  });

  test('stops on request', async () => {
    const stop = new AbortController();
    const onProgress = (): void => {
      stop.abort();
    };
    await expect(planSeason(scenarioWith(), { trials: 50, signal: stop.signal, onProgress })).rejects.toThrow(
      CancelledError,
    );
  });

  test('every wrong name of a fleet is told at once', () => {
    const wrong = {
      monthlyMixes: { 'paved but for July': { July: 'gravl' } },
      fleet: {
        airplanes: {
          'town runner': {
            airplane: 'nobody',
            mix: 'paved but for Juli',
            gearSets: ['rigid 29', 'rigid 29'],
          },
        },
      },
    };
    let problems: readonly { path: string }[] = [];
    try {
      scenarioWith(wrong);
    } catch (error) {
      if (!(error instanceof ScenarioError)) throw error;
      problems = error.problems;
    }
    expect(problems.map(({ path }) => path).sort()).toEqual([
      'fleet.airplanes["town runner"].airplane',
      'fleet.airplanes["town runner"].gearSets[0]',
      'fleet.airplanes["town runner"].gearSets[1]',
      'fleet.airplanes["town runner"].gearSets[1]',
      'fleet.airplanes["town runner"].mix',
      'monthlyMixes["paved but for July"].July',
    ]);
  });
});
