import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { comparePairings } from '../../lib/decide/compare.js';
import type { BestSetup } from '../../lib/decide/best-types.js';
import { CRITERIA, type Criterion } from '../../lib/decide/criteria.js';
import { madeRun, scenarioOf, type MadeColumns } from '../support/made-run.js';

const prices = { tube: '100', tireChange: '20', patch: '10', rescue: '1000', downDay: '40' };
const costs = { currency: 'credits', ...prices, source: 'test' };

/** Half an hour a landing, 1000 landings and 500 flight hours a season. */
const bare = scenarioOf(['a', 'b', 'c']);
const priced = scenarioOf(['a', 'b', 'c'], { costs });

function best(comparison: ReturnType<typeof comparePairings>[number], criterion: Criterion): BestSetup {
  const found = comparison.best[criterion];
  if (found?.priced !== true) throw new Error(`no best set-up by ${criterion}`);
  return found;
}

describe('four trials worked by hand', () => {
  // Lives in hours: a 200 300 250 450, b 150 325 200 450, c 50 50 250 50; a and b were still on at the horizon in
  // the last trial.
  const followedLandings = [900, 900, 900, 900];
  const run = madeRun(bare, {
    a: { lifeLandings: [400, 600, 500, 900], lifeCause: [1, 1, 3, 0], followedLandings },
    b: { lifeLandings: [300, 650, 400, 900], lifeCause: [1, 2, 1, 0], followedLandings },
    c: { lifeLandings: [100, 100, 500, 100], lifeCause: [3, 3, 3, 3], followedLandings },
  });
  const [comparison] = comparePairings(bare, run);
  const [ab, ac, bc] = comparison!.differences;

  test('each set-up is compared with each later one', () => {
    expect(comparison!.differences.map(({ setup, against }) => [setup, against])).toEqual([
      ['a', 'b'],
      ['a', 'c'],
      ['b', 'c'],
    ]);
    expect(comparison).toMatchObject({ mix: 'only', trials: 4, setups: ['a', 'b', 'c'], currency: null });
  });

  test('differences of life: 50, -25, 50, 0; mean 18.75 h, error 18.75 h', () => {
    expect(ab!.lifeHours.estimate).toBe(18.75);
    expect(ab!.lifeHours.standardError).toBe(18.75);
    expect(ab!.lifeHours.varianceRatio).toBeCloseTo(1406.25 / (35_000 / 3 + 54_218.75 / 3), 14);
    expect(ac!.lifeHours.estimate).toBe((150 + 250 + 0 + 400) / 4);
    expect(bc!.lifeHours.estimate).toBe((100 + 275 - 50 + 400) / 4);
  });

  test('who outlasts whom, and what the horizon hides', () => {
    const { outlasts, beyondHorizon, horizonHours } = ab!.lifeHours;
    expect([outlasts.setup.estimate, outlasts.against.estimate]).toEqual([0.5, 0.25]);
    expect([outlasts.sameLanding, outlasts.notTold]).toEqual([0, 0.25]);
    expect(beyondHorizon).toEqual({ setup: 0.25, against: 0.25 });
    expect(horizonHours).toBe(450);
    // c came off after the same landing as a in the third trial, and before it in the others.
    expect(ac!.lifeHours.outlasts).toMatchObject({ sameLanding: 0.25, notTold: 0 });
    expect(ac!.lifeHours.outlasts.setup.estimate).toBe(0.75);
  });

  test('means 300, 281.25 and 100 h rank a, b, c', () => {
    const { setups, unit, better } = best(comparison!, 'life');
    expect([unit, better]).toEqual(['h', 'more']);
    expect(setups.map(({ mean }) => mean.estimate)).toEqual([300, 281.25, 100]);
    expect(setups.map(({ rank }) => rank)).toEqual([1, 2, 3]);
    expect(setups.map(({ behindBest }) => behindBest?.estimate ?? null)).toEqual([null, 18.75, 200]);
  });

  test('shares of trials: a wins one and shares two, b wins one and shares one, c shares one', () => {
    const shares = best(comparison!, 'life').setups.map(
      ({ shareOfTrialsBest }) => shareOfTrialsBest.estimate,
    );
    expect(shares).toEqual([0.5, 0.375, 0.125]);
  });

  test('regret against hindsight: best of each trial 200, 325, 250, 450 h', () => {
    const regrets = best(comparison!, 'life').setups.map(({ regret }) => regret.hindsight.estimate);
    expect(regrets).toEqual([(0 + 25 + 0 + 0) / 4, (50 + 0 + 50 + 0) / 4, (150 + 275 + 0 + 400) / 4]);
  });

  test('the verdict asks for more trials: 4 (2.2414 x 18.75 / 18.75)^2 in all would do, but never fewer than 100 more', () => {
    // Two rivals share out 5 %: z(1 - 0.0125) = 2.2414. b: 18.75 h behind, give or take 42.03 h; not within 5 % of
    // 300 h either. Needed 4 x 2.2414^2 = 20.096, so 16.096 more.
    const { verdict, indifference } = best(comparison!, 'life');
    expect(indifference).toBe(15);
    expect(verdict).toMatchObject({
      kind: 'run more trials',
      best: 'a',
      open: ['b'],
      equal: [],
      moreTrials: 100,
    });
    expect(verdict.text).toMatch(/^Cannot tell yet on only: "a" leads/);
  });

  test('one world in four is lived twice: too few to tell ignorance', () => {
    const { setups, doubtOfLead } = best(comparison!, 'life');
    expect(setups.map(({ shareOfWorldsBest }) => shareOfWorldsBest)).toEqual([null, null, null]);
    expect(setups.map(({ regret }) => regret.ignorance)).toEqual([null, null, null]);
    expect(doubtOfLead).toEqual({ luck: null, ignorance: null, ignoranceAtMost: null, numerical: 18.75 });
  });
});

test('flats, days and money count flats as expected; hindsight counts what happened', () => {
  const shared = { lifeLandings: [9, 9], cost: [1000, 3000] };
  const run = madeRun(priced, {
    a: {
      ...shared,
      flats: [1, 0],
      flatsHazard: [0.2, 0.4],
      tubes: [1, 0],
      tubesHazard: [0.2, 0.4],
      downDays: [1, 0.5],
      flatDays: [1, 0],
      flatDaysHazard: [0.2, 0.4],
    },
    b: {
      ...shared,
      flats: [0, 0],
      flatsHazard: [0.4, 0.8],
      tubes: [0, 0],
      tubesHazard: [0.4, 0.8],
      downDays: [0, 1],
      flatDaysHazard: [0.4, 0.8],
    },
  });
  const [comparison] = comparePairings(priced, run, { criteria: ['flats', 'daysLost', 'costPerHour'] });
  const [ab] = comparison!.differences;
  expect(ab!.flatsPerSeason.estimate).toBeCloseTo((-0.2 - 0.4) / 2, 12);
  // Days: a 1 - 1 + 0.2 and 0.5 + 0.4; b 0.4 and 1 + 0.8.
  expect(ab!.daysLostPerSeason.estimate).toBeCloseTo((0.2 + 0.9) / 2 - (0.4 + 1.8) / 2, 12);
  // Money: a 1000 - 100 - 40 + 20 + 8 = 888 and 3000 + 40 + 16 = 3056; b 1000 + 40 + 16 = 1056, 3000 + 80 + 32 = 3112.
  const perSeason = (888 + 3056) / 2 - (1056 + 3112) / 2;
  expect(ab!.costPerSeason).toMatchObject({ estimate: perSeason });
  const perHour = ab!.costPerFlightHour;
  expect('estimate' in perHour && perHour.estimate).toBeCloseTo(perSeason / 500, 12);
  expect(best(comparison!, 'costPerHour').unit).toBe('credits per flight hour');
  // Flats that happened: a 1 and 0, b 0 and 0: b is best in the first trial, both in the second.
  const flats = best(comparison!, 'flats').setups;
  expect(flats.map(({ shareOfTrialsBest }) => shareOfTrialsBest.estimate)).toEqual([0.25, 0.75]);
  expect(flats.map(({ regret }) => regret.hindsight.estimate)).toEqual([0.5, 0]);
  expect(flats.map(({ rank }) => rank)).toEqual([1, 2]);
  expect(comparison!.best.life).toBeUndefined();
});

test('without prices money is not compared, and it says why', () => {
  const run = madeRun(bare, { a: { lifeLandings: [1, 2] }, b: { lifeLandings: [2, 1] } });
  const needs = { priced: false, needs: 'not priced: needs costs and tire prices' };
  const [comparison] = comparePairings(bare, run);
  expect(comparison!.best.costPerHour).toEqual(needs);
  expect(comparison!.differences[0]!.costPerSeason).toEqual(needs);
  const unpriced = scenarioOf(['a', 'b'], { costs, tires: { plain: { price: null } } });
  const [partly] = comparePairings(unpriced, run);
  expect(partly!.differences[0]!.costPerFlightHour).toEqual({
    priced: false,
    needs: 'not priced: needs the price of "plain"',
  });
});

test('all set-ups against a chosen one; names and numbers that do not exist are refused', () => {
  const life = (landings: number): MadeColumns => ({ lifeLandings: [landings, landings + 1] });
  const run = madeRun(bare, { a: life(3), b: life(4), c: life(5) });
  const [comparison] = comparePairings(bare, run, { mix: 'only', against: 'b' });
  expect(comparison!.differences.map(({ setup, against }) => [setup, against])).toEqual([
    ['a', 'b'],
    ['c', 'b'],
  ]);
  expect(comparison!.differences.map(({ lifeHours }) => lifeHours.estimate)).toEqual([-0.5, 0.5]);
  expect(() => comparePairings(bare, run, { mix: 'onyl' })).toThrow(/did you mean "only"/);
  expect(() => comparePairings(bare, run, { against: 'd' })).toThrow(/no set-up on this mix named "d"/);
  expect(() => comparePairings(bare, run, { level: 95 })).toThrow(/level is 95/);
  expect(() => comparePairings(bare, run, { indifferenceShare: -1 })).toThrow(/indifferenceShare/);
  expect(() => comparePairings(bare, run, { indifference: { life: NaN } })).toThrow(/indifference\.life/);
  expect(() => comparePairings(bare, run, { criteria: ['lfie' as Criterion] })).toThrow(
    /no criterion named "lfie"/,
  );
  expect(() => comparePairings(bare, madeRun(bare, { a: life(3) }))).toThrow(
    /only one set-up was run on "only"/,
  );
});

describe('laws', () => {
  const positive = fc.double({ min: 0.001, max: 10, noNaN: true });
  const season = fc.record({
    life: fc.integer({ min: 1, max: 5000 }),
    hazard: positive,
    flats: fc.integer({ min: 0, max: 4 }),
    days: positive,
    cost: positive.map((value) => 1000 * value),
  });
  type Season = typeof season extends fc.Arbitrary<infer Row> ? Row : never;
  const columnsOf = (rows: readonly Season[]): MadeColumns => ({
    lifeLandings: rows.map(({ life }) => life),
    lifeCause: rows.map(() => 1),
    flatsHazard: rows.map(({ hazard }) => hazard),
    flats: rows.map(({ flats }) => flats),
    downDays: rows.map(({ days }) => Math.fround(days)),
    cost: rows.map(({ cost }) => cost),
  });
  const ROWS = 120;
  const rowsOf = fc.array(season, { minLength: ROWS, maxLength: ROWS });
  const twinsOf = fc.array(season, { minLength: ROWS / 4, maxLength: ROWS / 4 });
  const field = fc.array(fc.tuple(rowsOf, twinsOf), { minLength: 3, maxLength: 3 });
  const names = ['a', 'b', 'c'];
  const compared = (
    setups: readonly string[],
    made: readonly (readonly [readonly Season[], readonly Season[]])[],
    scenario = priced,
  ): ReturnType<typeof comparePairings>[number] =>
    comparePairings(
      scenario,
      madeRun(
        scenario,
        Object.fromEntries(setups.map((name, k) => [name, columnsOf(made[k]![0])])),
        Object.fromEntries(setups.map((name, k) => [name, columnsOf(made[k]![1])])),
      ),
    )[0]!;
  const parameters = { seed: 20_250_101, numRuns: 12 };

  test('the three kinds of shares add to 1', () => {
    fc.assert(
      fc.property(field, (made) => {
        const comparison = compared(names, made);
        for (const criterion of CRITERIA) {
          const { setups } = best(comparison, criterion);
          const sum = (value: (standing: (typeof setups)[number]) => number): number =>
            setups.reduce((total, standing) => total + value(standing), 0);
          expect(sum(({ chanceBestOnAverage }) => chanceBestOnAverage)).toBeCloseTo(1, 12);
          expect(sum(({ shareOfWorldsBest }) => shareOfWorldsBest!.estimate)).toBeCloseTo(1, 12);
          expect(sum(({ shareOfTrialsBest }) => shareOfTrialsBest.estimate)).toBeCloseTo(1, 12);
        }
      }),
      parameters,
    );
  });

  test('other names in another order give the same figures under the other names', () => {
    const mean = (rows: readonly Season[], of: (row: Season) => number): number =>
      rows.reduce((sum, row) => sum + of(row), 0) / rows.length;
    fc.assert(
      fc.property(field, (made) => {
        // Equal means would be put in order by name.
        fc.pre(new Set(made.map(([rows]) => mean(rows, ({ life }) => life))).size === 3);
        const there = compared(names, made);
        const turned = compared(['b', 'c', 'a'], [made[1]!, made[2]!, made[0]!]);
        for (const criterion of CRITERIA) {
          const [one, other] = [best(there, criterion), best(turned, criterion)];
          expect(other.setups.map(({ setup }) => setup)).toEqual(['b', 'c', 'a']);
          for (const standing of one.setups) {
            expect(other.setups.find(({ setup }) => setup === standing.setup)).toEqual(standing);
          }
          expect(other.verdict.kind).toBe(one.verdict.kind);
        }
      }),
      parameters,
    );
  });

  test('a copy ties exactly, and takes half of what the original had', () => {
    fc.assert(
      fc.property(field, (made) => {
        const without = compared(['a', 'b'], made);
        const withCopy = compared(names, [made[0]!, made[1]!, made[0]!]);
        const copy = withCopy.differences.find(({ setup, against }) => setup === 'a' && against === 'c')!;
        for (const key of ['lifeHours', 'flatsPerSeason', 'daysLostPerSeason', 'costPerSeason'] as const) {
          expect(copy[key]).toMatchObject({ estimate: 0, standardError: 0, lower: 0, upper: 0 });
        }
        for (const criterion of CRITERIA) {
          const [a, b, c] = best(withCopy, criterion).setups;
          const [alone, other] = best(without, criterion).setups;
          expect(c).toEqual({ ...a!, setup: 'c', behindBest: c!.behindBest });
          expect(a!.shareOfWorldsBest!.estimate).toBeCloseTo(alone!.shareOfWorldsBest!.estimate / 2, 12);
          expect(a!.chanceBestOnAverage).toBeCloseTo(alone!.chanceBestOnAverage / 2, 12);
          expect(b!.regret.ignorance).toEqual(other!.regret.ignorance);
          expect(b!.shareOfWorldsBest).toEqual(other!.shareOfWorldsBest);
        }
      }),
      parameters,
    );
  });

  test('a set-up that is as good or better in every trial is never ranked below', () => {
    const handicap = fc.double({ min: 0, max: 2, noNaN: true });
    fc.assert(
      fc.property(
        rowsOf,
        twinsOf,
        rowsOf,
        twinsOf,
        fc.array(handicap, { minLength: ROWS, maxLength: ROWS }),
        (rows, twins, others, otherTwins, worse) => {
          const behind = (list: readonly Season[]): Season[] =>
            list.map((row, k) => ({
              life: Math.max(1, row.life - Math.round(100 * worse[k]!)),
              hazard: row.hazard + worse[k]!,
              flats: row.flats + Math.round(worse[k]!),
              days: row.days + worse[k]!,
              cost: row.cost + 1000 * worse[k]!,
            }));
          const comparison = compared(names, [
            [rows, twins],
            [behind(rows), behind(twins)],
            [others, otherTwins],
          ]);
          for (const criterion of CRITERIA) {
            const [better, dominated] = best(comparison, criterion).setups;
            expect(better!.rank).toBeLessThanOrEqual(dominated!.rank);
            expect(better!.chanceBestOnAverage).toBeGreaterThanOrEqual(dominated!.chanceBestOnAverage);
            expect(better!.shareOfTrialsBest.estimate).toBeGreaterThanOrEqual(
              dominated!.shareOfTrialsBest.estimate,
            );
            expect(better!.regret.hindsight.estimate).toBeLessThanOrEqual(
              dominated!.regret.hindsight.estimate,
            );
            expect(better!.regret.ignorance!.estimate).toBeLessThanOrEqual(
              dominated!.regret.ignorance!.estimate + 1e-9,
            );
            if (better!.rank === 1) {
              expect(better!.shareOfWorldsBest!.estimate).toBeGreaterThanOrEqual(
                dominated!.shareOfWorldsBest!.estimate,
              );
            }
          }
        },
      ),
      parameters,
    );
  });

  test('doubling prices doubles money and leaves the order as it is', () => {
    const doubled = scenarioOf(names, {
      costs: { ...costs, tube: '200', tireChange: '40', patch: '20', rescue: '2000', downDay: '80' },
    });
    const twice = (rows: readonly Season[]): Season[] => rows.map((row) => ({ ...row, cost: 2 * row.cost }));
    fc.assert(
      fc.property(field, (made) => {
        const once = compared(names, made);
        const more = compared(
          names,
          made.map(([rows, twins]) => [twice(rows), twice(twins)] as const),
          doubled,
        );
        once.differences.forEach(({ costPerSeason }, k) => {
          const other = more.differences[k]!.costPerSeason;
          if (!('estimate' in costPerSeason) || !('estimate' in other)) throw new Error('not priced');
          expect(other.estimate).toBe(2 * costPerSeason.estimate);
          expect(other.standardError).toBeCloseTo(2 * costPerSeason.standardError, 9);
          expect(other.varianceRatio).toBeCloseTo(costPerSeason.varianceRatio!, 12);
        });
        const [one, two] = [best(once, 'costPerHour'), best(more, 'costPerHour')];
        one.setups.forEach((standing, k) => {
          const other = two.setups[k]!;
          expect(other.rank).toBe(standing.rank);
          expect(other.regret.ignorance!.estimate).toBeCloseTo(2 * standing.regret.ignorance!.estimate, 9);
          expect(other.regret.hindsight.estimate).toBeCloseTo(2 * standing.regret.hindsight.estimate, 9);
        });
        expect(two.verdict.kind).toBe(one.verdict.kind);
        expect(best(more, 'life')).toEqual(best(once, 'life'));
      }),
      parameters,
    );
  });
});
