import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { allChoices, changesOf, cheapestChoices, legsOf, stretchesOf } from '../../lib/decide/plan-space.js';
import type { FlownMonth } from '../../lib/scenario/compile-fleet.js';

const months = (allowed: readonly boolean[]): FlownMonth[] =>
  allowed.map((mayChange, index) => ({
    month: String(index),
    landings: 10,
    firstLanding: 10 * index,
    mayChange,
  }));

describe('stretches', () => {
  test('by hand: changes in the second and fourth of five months; the first belongs to the last stretch', () => {
    expect(stretchesOf(months([false, true, false, true, false]))).toEqual([
      [1, 2],
      [0, 3, 4],
    ]);
  });

  test('without a month that allows a change there is one', () => {
    expect(stretchesOf(months([false, false, false]))).toEqual([[0, 1, 2]]);
  });

  test('hold every month once', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 1, maxLength: 12 }), (allowed) => {
        const stretches = stretchesOf(months(allowed));
        expect(stretches.flat().sort((a, b) => a - b)).toEqual(allowed.map((_, index) => index));
        expect(stretches.length).toBe(Math.max(1, allowed.filter(Boolean).length));
      }),
    );
  });
});

describe('changes', () => {
  test.each([
    [[0], 0],
    [[0, 0, 0], 0],
    [[0, 1], 2],
    [[0, 1, 0], 2],
    [[0, 1, 0, 1], 4],
    [[0, 1, 2], 3],
  ])('of %j in a year that repeats: %i', (choice, changes) => {
    expect(changesOf(choice)).toBe(changes);
  });
});

test('legs join months on the same set and start where the set changes', () => {
  const flown = months([true, false, true, true]);
  const stretches = stretchesOf(flown);
  expect(legsOf([0, 1, 1], stretches, flown, [7, 9])).toEqual([
    { setup: 7, firstLanding: 0 },
    { setup: 9, firstLanding: 20 },
  ]);
});

describe('the cheapest choices', () => {
  test('by hand: two sets, three stretches, a change costs 5', () => {
    // All on set 0: 10 + 30 + 10 = 50. Set 1 in the middle: 10 + 12 + 10 + 2 x 5 = 42. All on set 1: 15 + 12 + 15 = 42.
    const price = [
      [10, 30, 10],
      [15, 12, 15],
    ];
    const found = cheapestChoices(price, 5, Infinity, 4);
    expect(found.slice(0, 2)).toEqual([
      { choice: [0, 1, 0], price: 42 },
      { choice: [1, 1, 1], price: 42 },
    ]);
    // No change allowed: the first of the two falls away.
    expect(cheapestChoices(price, 5, 0, 4)).toEqual([
      { choice: [1, 1, 1], price: 42 },
      { choice: [0, 0, 0], price: 50 },
    ]);
  });

  test('are those of trying all of them', () => {
    const money = fc.integer({ min: 0, max: 20 });
    const table = fc
      .tuple(fc.integer({ min: 1, max: 3 }), fc.integer({ min: 1, max: 6 }))
      .chain(([sets, stretches]) =>
        fc.array(fc.array(money, { minLength: stretches, maxLength: stretches }), {
          minLength: sets,
          maxLength: sets,
        }),
      );
    const most = fc.constantFrom(0, 1, 2, 3, 4, Infinity);
    fc.assert(
      fc.property(
        table,
        money,
        most,
        fc.integer({ min: 1, max: 12 }),
        (price, change, mostChanges, wanted) => {
          const brute = allChoices(price.length, price[0]!.length, mostChanges)
            .map((choice) => ({
              choice,
              price:
                choice.reduce((sum, set, stretch) => sum + price[set]![stretch]!, 0) +
                changesOf(choice) * change,
            }))
            // A stable sort leaves ties in the order of counting.
            .sort((a, b) => a.price - b.price)
            .slice(0, wanted);
          expect(cheapestChoices(price, change, mostChanges, wanted)).toEqual(brute);
        },
      ),
      { numRuns: 300 },
    );
  });
});
